/* Which pump, tank and strategy of a catalogue do at the least cost. */
#ifndef PUMPDAY_CHOOSE_H
#define PUMPDAY_CHOOSE_H

#include <pumpday/catalogue.h>
#include <pumpday/life_cost.h>

/* One of them, over the household's days. */
struct pd_choice {
    size_t pump, tank; /* places in the catalogue; its count: the scenario's own */
    const struct pd_strategy_kind *strategy;
    struct pd_strategy settings; /* with which it ran */
    long days, failing;          /* fewer days than asked for where it was broken off as hopeless */
    uint32_t faults;             /* those of its failing days */
    bool passes;                 /* all days were run, and few enough failed */
    struct pd_range cost;        /* present value over cost.years */
    double purchase;
};

struct pd_choose_options {
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count; /* 0: all */
    struct pd_days_options days;
    double share; /* of the days that must pass, 0.5 to 1 */
    void (*progress)(void *context, size_t done,
                     size_t count); /* of pumps and tanks; may be NULL */
    void *progress_context;
};

struct pd_choose_options pd_choose_default(void);

enum { PD_CHOICES_MOST = (PD_OFFERS_MOST + 1) * (PD_OFFERS_MOST + 1) * PD_STRATEGIES_MOST };

/* By rank: those that pass by their cost, then the others by the share of days that fail. */
struct pd_choices {
    size_t count;
    struct pd_choice *list;
};

/* Runs the household's days with each pump and tank under each strategy, at the settings that
 * pd_settings_find finds for them on the scenario's own day (those in site.csv are of one pump and
 * are passed over, but for a stop pressure).  False and the error otherwise. */
bool pd_choose(const struct pd_scenario *scenario, const struct pd_catalogue *catalogue,
               const struct pd_choose_options *options, struct pd_choices *choices,
               struct pd_error *error);

void pd_choices_free(struct pd_choices *choices);

#endif
