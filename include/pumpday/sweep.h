/* Many days: every combination of some items' values under every strategy, into one CSV file.
 *
 * The days run side by side in threads; the rows stand in a fixed order, the last item varying
 * fastest and the strategies within each combination, and are the same to the last digit whatever
 * the number of threads. */
#ifndef PUMPDAY_SWEEP_H
#define PUMPDAY_SWEEP_H

#include <pumpday/day.h>

enum {
    PD_VARIED_MOST = 6,             /* items varied in one sweep */
    PD_COMBINATIONS_MOST = 1000000, /* combinations of one sweep */
    PD_JOBS_MOST = 256,             /* threads */
    PD_VALUE_MOST = 64              /* longest value as text, bytes with the closing zero */
};

/* One item and the values it takes. */
struct pd_varied {
    enum pd_item item;
    const char *unit; /* of the values, as results name it; NULL: none */
    size_t count;     /* of the values, 1 to PD_COMBINATIONS_MOST */
    bool is_range;
    double from, step; /* in the unit; a range's */
    const char *list;  /* behind the `=` of the text read, which must outlive this; a list's */
};

/* Reads `ITEM=FROM:TO:STEP[UNIT]`, both ends included where the steps meet them, or
 * `ITEM=a,b,c[UNIT]`; units and choices as in an override of a scenario.  Whether the values are
 * within the item's limits is not looked at.  False and PD_BAD_USAGE if it is wrong. */
bool pd_varied_read(const char *text, struct pd_varied *varied, struct pd_error *error);

/* A value as text, without its unit: what is written and what is simulated.  index < count. */
void pd_varied_text(const struct pd_varied *varied, size_t index, char text[PD_VALUE_MOST]);

struct pd_sweep_options {
    const struct pd_varied *varied; /* the first varies slowest */
    size_t varied_count;            /* 1 to PD_VARIED_MOST, no item twice */
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;     /* 0: all three */
    enum pd_unit_system units; /* of the summary columns */
    const char *file;          /* the result; until it is whole, `file`.part grows beside it */
    bool resume;               /* go on with a part left by the same sweep */
    int jobs;                  /* threads, up to PD_JOBS_MOST; 0: one a processor */
    struct pd_day_options day; /* no trace; go_on is asked by the calling thread, now and then */
    void (*progress)(void *context, size_t done, size_t total); /* combinations; may be NULL */
    void *progress_context;
};

struct pd_sweep_options pd_sweep_default(void);

/* What became of a sweep, also of one that was stopped. */
struct pd_sweep_totals {
    size_t combinations; /* all of them */
    size_t resumed;      /* of these, found in the part */
    size_t done;         /* of these, in the file now, resumed ones too */
    size_t strategies;   /* rows of a combination */
};

/* Runs a sweep.  A combination that fails (a value out of range, parts that do not fit, a solver
 * error) is a row with its reason.  The columns: the varied items, those of summary.csv, reason,
 * start_pressure, stop_pressure, precharge, and drawdown: the water the tank gives between stop and
 * start pressure by its law, where the strategy has both.
 *
 * The file appears whole or not at all.  What is stopped by go_on, or fails, leaves `file`.part
 * with whole combinations, and `file`.part.key, which tells what scenario it belongs to.  An
 * earlier part is neither overwritten nor, if it belongs to another sweep, gone on with.
 * False and the error: PD_BAD_USAGE (options), PD_OUTPUT_FAILED, PD_SOLVER_FAILED (no memory or
 * threads; stopped). */
bool pd_sweep(const struct pd_scenario *scenario, const struct pd_sweep_options *options,
              struct pd_sweep_totals *totals, struct pd_error *error);

#endif
