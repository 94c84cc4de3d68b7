/* The rows of a sweep as text: which combination comes when, and what is written of it. */
#ifndef PUMPDAY_STUDIES_SWEEP_ROWS_H
#define PUMPDAY_STUDIES_SWEEP_ROWS_H

#include <pumpday/sweep.h>

/* Longest head or row, bytes: the values, some thirty numbers, reason and title with their quotes
 * doubled. */
enum { SWEEP_ROW_MOST = 8192 };

/* What all threads of a sweep share and none changes. */
struct sweep_plan {
    const struct pd_scenario *scenario;
    const struct pd_sweep_options *options;
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;
    size_t combinations;
};

/* Counts the combinations and checks the options.  False and PD_BAD_USAGE if they are wrong. */
bool sweep_plan_make(const struct pd_scenario *scenario, const struct pd_sweep_options *options,
                     struct sweep_plan *plan, struct pd_error *error);

/* Writes the line of heads. */
void sweep_head_write(FILE *stream, const struct sweep_plan *plan);

/* Writes the fields that a row begins with, up to the comma behind the strategy's name. */
void sweep_row_begin(FILE *stream, const struct sweep_plan *plan, size_t combination,
                     const struct pd_strategy_kind *kind);

/* One thread's own scenario and workspace. */
struct sweep_bench;
struct sweep_bench *sweep_bench_create(const struct sweep_plan *plan, struct pd_error *error);
void sweep_bench_free(struct sweep_bench *bench);

/* Bytes that hold the rows of any combination, and a closing zero. */
size_t sweep_rows_room(const struct sweep_bench *bench);

/* Simulates a combination and writes its rows.  go_on is asked within the days; false if it said
 * no, or with an error if memory ran out, and then the rows are not whole. */
bool sweep_rows_write(struct sweep_bench *bench, size_t combination, FILE *stream,
                      bool (*go_on)(void *context), void *go_on_context, struct pd_error *error);

#endif
