/* Many days of a household: how sure a verdict is, and what a day may bring. */
#ifndef PUMPDAY_DAYS_H
#define PUMPDAY_DAYS_H

#include <pumpday/compare.h>

#include <stdint.h>

enum { PD_DAYS_MOST = 1000000 };

/* What is kept of a day under a strategy. */
enum pd_figure {
    PD_FIGURE_STARTS,
    PD_FIGURE_WORST_HOUR,    /* starts in it */
    PD_FIGURE_RUN_TIME,      /* s */
    PD_FIGURE_SHORTEST_RUN,  /* s; NAN where none began and ended */
    PD_FIGURE_SHORTEST_REST, /* s between two runs; NAN where there is none */
    PD_FIGURE_ENERGY,        /* J */
    PD_FIGURE_COST,          /* of the energy, money; see pd_day_cost */
    PD_FIGURE_WATER,         /* m3 to the taps */
    PD_FIGURE_LOWEST_TAP,    /* Pa gauge; NAN where no tap was open */
    PD_FIGURE_HIGHEST,       /* header pressure, Pa gauge */
    PD_FIGURE_LEVEL,         /* m, of a cistern whose level moves, at the day's end; else NAN */
    PD_FIGURE_COUNT
};

struct pd_figure_row {
    const char *name; /* as a column: "starts_in_worst_hour" */
    const char *what; /* "starts in the worst hour" */
    enum pd_kind kind;
};
extern const struct pd_figure_row pd_figures[PD_FIGURE_COUNT];

struct pd_days_options {
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count; /* 0: all */
    uint64_t seed;
    long count;   /* days, from day 1 on, 1 to PD_DAYS_MOST; with `until` the most */
    double until; /* 0, or half the width of the interval of the share that fails, 0.001 to 0.5: no
                   * more days once it is that narrow for each strategy */
    long most_failing; /* no more days once each strategy has failed on more than so many; -1: all
                        * days whatever fails */
    bool carry; /* each day begins as the one before it ended, its evening and the cistern's level;
                 * false: each repeats itself.  A level that moves is followed day by day, so that
                 * only strategies run side by side */
    const char *database; /* SQLite file in which days are kept, and from which those are taken that
                           * are there; NULL: none */
    int jobs;             /* threads; 0: one a processor */
    struct pd_day_options day; /* its go_on is asked a few times a second */
    /* told now and then how far it is; may be NULL */
    void (*progress)(void *context, size_t done, size_t count);
    void *progress_context;
};

struct pd_days_options pd_days_default(void);

/* The days, each under each strategy.  Day i of the list is day i + 1 of the household. */
struct pd_days {
    long count;
    uint64_t seed;
    struct pd_calendar calendar;
    size_t strategy_count;
    struct pd_strategy strategy[PD_STRATEGIES_MOST];
    struct pd_limits limits;
    double *figure;   /* [day][strategy][figure] */
    uint32_t *faults; /* [day][strategy]: bits of enum pd_fault; 0: the day passes */
};

/* Simulates days of a scenario's household under strategies: every strategy meets the same days,
 * and a day's figures depend on scenario, seed and its number alone, whatever the threads;
 * but for what is carried over, if it is asked for.
 * False and PD_BAD_INPUT for a scenario without a household, PD_INTERRUPTED if go_on said no, or
 * another error; then there is nothing to free. */
bool pd_days_run(const struct pd_scenario *scenario, const struct pd_days_options *options,
                 struct pd_days *days, struct pd_error *error);

void pd_days_free(struct pd_days *days);

double pd_days_figure(const struct pd_days *days, long day, size_t strategy, enum pd_figure figure);
uint32_t pd_days_faults(const struct pd_days *days, long day, size_t strategy);

/* How many days have one of these faults; all bits set: how many fail. */
long pd_days_failing(const struct pd_days *days, size_t strategy, uint32_t faults);

/* What a figure is on a day in the middle, and between what it is on nine days of ten: quantiles
 * over the days that have it, each the value of a day (nearest rank); NAN if none has.  False if
 * memory runs out. */
struct pd_range {
    double low, middle, high; /* 5, 50 and 95 % */
};
bool pd_days_range(const struct pd_days *days, size_t strategy, enum pd_figure figure,
                   struct pd_range *range, struct pd_error *error);

/* The faults of a day, `; ` between; "ok" without one. */
void pd_days_verdict(uint32_t faults, char text[PD_VERDICT_MOST]);

/* A figure's mean over the days that have it, between the ends of the 95 % interval of the mean of
 * all days (central limit: for dozens of days and more); NAN for under two days. */
struct pd_range pd_days_mean(const struct pd_days *days, size_t strategy, enum pd_figure figure);

/* pd_days_range of the differences day by day, of one strategy less another. */
bool pd_days_difference(const struct pd_days *days, size_t strategy, size_t less,
                        enum pd_figure figure, struct pd_range *range, struct pd_error *error);

/* The 95 % interval of a share of which `count` of `of` were seen.  of > 0.
 * Source: Wilson, J. Am. Stat. Assoc. 22, 1927, the score interval. */
struct pd_interval {
    double low, high; /* 0 to 1 */
};
struct pd_interval pd_share_interval(long count, long of);

/* Whether the share that fails is known to `until` (0 to 1) on either side, under each strategy. */
bool pd_days_are_precise(const struct pd_days *days, double until);

/* The day's number on which a strategy comes worst: the most faults, then the most starts in an
 * hour, then the lowest tap pressure. */
long pd_days_worst(const struct pd_days *days, size_t strategy);

/* Simulates the worst of the days once more, under the strategy that fails on the fewest, and
 * writes the files of pd_compare of it into a folder; their title says which day it is.  options:
 * those of pd_days_run.  False and the error otherwise. */
bool pd_days_show_worst(const struct pd_scenario *scenario, const struct pd_days *days,
                        const struct pd_days_options *options, const char *folder,
                        enum pd_unit_system units, struct pd_error *error);

/* Draws a day of the household of a scenario into it, in place of its own draws; its evening before
 * is its own.  False and the error otherwise. */
bool pd_days_draw(struct pd_scenario *scenario, uint64_t seed, long day, struct pd_error *error);

#endif
