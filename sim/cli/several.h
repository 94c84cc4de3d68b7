/* One or several scenarios on a command line, each perhaps with a weight: `weekday*5 sunday*2`. */
#ifndef PUMPDAY_CLI_SEVERAL_H
#define PUMPDAY_CLI_SEVERAL_H

#include "cli/choices.h"

struct several {
    size_t count;
    struct pd_compared list[PD_SCENARIOS_MOST];
    char folder[PD_SCENARIOS_MOST][PD_PATH_MOST];
    const char *name[PD_SCENARIOS_MOST]; /* within folder */
    struct pd_scenario scenario[PD_SCENARIOS_MOST];
};

/* Takes a word of the line; returns the exit code, and has told what is wrong. */
int several_take(const struct usage *usage, struct several *several, const char *value);

/* Whether there is one scenario, without a weight. */
bool several_is_one(const struct several *several);

/* Reads them all with the same overrides; faults of all are told.  *own_units becomes that of the
 * first one's files (NULL: --units told one).  Returns the exit code; free if it is PD_DONE. */
int several_read(struct several *several, const struct sets *sets, enum pd_unit_system *own_units);

void several_free(struct several *several);

#endif
