/* Days kept in a database while they are made, and taken from it where they are there already. */
#ifndef PUMPDAY_STUDIES_DAYS_STORE_H
#define PUMPDAY_STUDIES_DAYS_STORE_H

#include <pumpday/days.h>

struct days_store;

/* Opens the database that the options name, at the run of this scenario, seed and program.  NULL
 * and the error otherwise. */
struct days_store *days_store_open(const struct pd_scenario *scenario,
                                   const struct pd_days_options *options,
                                   const struct pd_days *days, struct pd_error *error);
void days_store_close(struct days_store *store);

/* How many days from the first on are there under each strategy, of those asked for; -1 and the
 * error where that cannot be found out. */
long days_store_count(struct days_store *store, struct pd_error *error);

/* Takes so many of them; *days has room for them, and their number becomes its count. */
bool days_store_load(struct days_store *store, struct pd_days *days, long count,
                     struct pd_error *error);

/* Adds days from `first` to before `end`, all or none. */
bool days_store_add(struct days_store *store, const struct pd_days *days, long first, long end,
                    struct pd_error *error);

#endif
