/* Simulates one combination of a sweep and writes its rows. */
#include "studies/sweep_rows.h"

#include "base/memory.h"
#include "output/results.h"

#include <pumpday/compare.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { OVERRIDE_MOST = 192, REASON_MOST = PD_TEXT_MOST + PD_NAME_MOST + 32 };

struct sweep_bench {
    const struct sweep_plan *plan;
    struct pd_scenario scenario; /* its own, with the values of the combination at hand */
    struct pd_day *day;
    struct pd_faults faults;
};

/* What stands behind the summary and the reason. */
struct settings {
    double start_pressure, stop_pressure, precharge; /* Pa gauge */
    double drawdown;                                 /* m3 */
    double starts_limit;                             /* in an hour */
    double run_limit;                                /* s */
    double tap_limit;                                /* Pa gauge */
    const char *title;
};

#define SETTING(name, kind, si, us, store)                                                         \
    {                                                                                              \
#name, PD_KIND_##kind, si, us, PD_STORE_##store, offsetof(struct settings, name)           \
    }

static const struct pd_column setting_columns[] = {
    SETTING(start_pressure, PRESSURE, "kPa", "psi", DOUBLE),
    SETTING(stop_pressure, PRESSURE, "kPa", "psi", DOUBLE),
    SETTING(precharge, PRESSURE, "kPa", "psi", DOUBLE),
    SETTING(drawdown, VOLUME, "L", "gal", DOUBLE),
    SETTING(starts_limit, NUMBER, NULL, NULL, DOUBLE),
    SETTING(run_limit, TIME, "s", "s", DOUBLE),
    SETTING(tap_limit, PRESSURE, "kPa", "psi", DOUBLE),
    SETTING(title, TEXT, NULL, NULL, TEXT),
};

enum { SETTING_COUNT = sizeof setting_columns / sizeof setting_columns[0] };

static bool has_item_twice(const struct pd_sweep_options *options)
{
    for (size_t i = 0; i < options->varied_count; i++) {
        for (size_t k = 0; k < i; k++) {
            if (options->varied[i].item == options->varied[k].item) {
                return true;
            }
        }
    }
    return false;
}

/* Multiplies the counts up; 0 if they are more than a sweep may have. */
static size_t count_combinations(const struct pd_sweep_options *options)
{
    size_t count = 1;

    for (size_t i = 0; i < options->varied_count; i++) {
        if (options->varied[i].count > PD_COMBINATIONS_MOST / count) {
            return 0;
        }
        count *= options->varied[i].count;
    }
    return count;
}

bool sweep_plan_make(const struct pd_scenario *scenario, const struct pd_sweep_options *options,
                     struct sweep_plan *plan, struct pd_error *error)
{
    bool all = options->strategy_count == 0;

    *plan = (struct sweep_plan){.scenario = scenario, .options = options};
    if (options->varied_count < 1 || options->varied_count > PD_VARIED_MOST) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL, "1 to %d items can be varied",
                            PD_VARIED_MOST);
    }
    if (has_item_twice(options)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL, "an item is varied twice");
    }
    plan->combinations = count_combinations(options);
    if (plan->combinations == 0) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "too many combinations, expected at most %d", PD_COMBINATIONS_MOST);
    }
    plan->strategy_count = all ? pd_strategy_count : options->strategy_count;
    for (size_t i = 0; i < plan->strategy_count; i++) {
        plan->strategies[i] = all ? pd_strategies[i] : options->strategies[i];
    }
    return true;
}

/* The place of a combination in one item's values: the last item varies fastest. */
static size_t value_place(const struct sweep_plan *plan, size_t combination, size_t varied)
{
    for (size_t i = plan->options->varied_count - 1; i > varied; i--) {
        combination /= plan->options->varied[i].count;
    }
    return combination % plan->options->varied[varied].count;
}

void sweep_head_write(FILE *stream, const struct sweep_plan *plan)
{
    enum pd_unit_system units = plan->options->units;
    size_t count;
    const struct pd_column *columns = pd_summary_columns(&count);

    for (size_t i = 0; i < plan->options->varied_count; i++) {
        const struct pd_varied *varied = &plan->options->varied[i];
        (void)fputs(pd_items[varied->item].name, stream);
        if (varied->unit != NULL) {
            (void)fprintf(stream, " [%s]", varied->unit);
        }
        (void)fputc(',', stream);
    }
    pd_csv_head_fields(stream, columns, count, units);
    (void)fputs(",reason,", stream);
    pd_csv_head(stream, setting_columns, SETTING_COUNT, units);
}

void sweep_row_begin(FILE *stream, const struct sweep_plan *plan, size_t combination,
                     const struct pd_strategy_kind *kind)
{
    char text[PD_VALUE_MOST];

    for (size_t i = 0; i < plan->options->varied_count; i++) {
        pd_varied_text(&plan->options->varied[i], value_place(plan, combination, i), text);
        (void)fprintf(stream, "%s,", text);
    }
    (void)fprintf(stream, "%s,", kind->name);
}

struct sweep_bench *sweep_bench_create(const struct sweep_plan *plan, struct pd_error *error)
{
    struct sweep_bench *bench = pd_memory_resize(NULL, sizeof *bench);

    if (bench == NULL || !pd_scenario_copy(plan->scenario, &bench->scenario)) {
        free(bench);
        (void)pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "no memory for a thread's days");
        return NULL;
    }
    bench->plan = plan;
    bench->day = pd_day_create(error);
    if (bench->day == NULL) {
        sweep_bench_free(bench);
        return NULL;
    }
    return bench;
}

void sweep_bench_free(struct sweep_bench *bench)
{
    if (bench != NULL) {
        pd_day_free(bench->day);
        pd_scenario_free(&bench->scenario);
        free(bench);
    }
}

size_t sweep_rows_room(const struct sweep_bench *bench)
{
    _Static_assert(SWEEP_ROW_MOST >
                       PD_VARIED_MOST * PD_VALUE_MOST + 2 * (REASON_MOST + PD_PATH_MOST) + 1024,
                   "a row holds its values, its reason, its title and its numbers");
    return bench->plan->strategy_count * SWEEP_ROW_MOST + 1;
}

/* Gives every varied item its value of the combination.  All are given each time, so that nothing
 * is left of the combination before. */
static bool apply(struct sweep_bench *bench, size_t combination)
{
    const struct sweep_plan *plan = bench->plan;
    char override[OVERRIDE_MOST];
    char text[PD_VALUE_MOST];

    bench->faults.count = 0;
    for (size_t i = 0; i < plan->options->varied_count; i++) {
        const struct pd_varied *varied = &plan->options->varied[i];
        pd_varied_text(varied, value_place(plan, combination, i), text);
        (void)snprintf(override, sizeof override, "%s=%s%s%s", pd_items[varied->item].name, text,
                       varied->unit != NULL ? " " : "", varied->unit != NULL ? varied->unit : "");
        (void)pd_scenario_set(&bench->scenario, override, &bench->faults);
    }
    if (bench->faults.count == 0) {
        (void)pd_scenario_check(&bench->scenario, &bench->faults);
    }
    return bench->faults.count == 0;
}

/* Words for why a combination failed, on one line. */
static void say_why(char reason[REASON_MOST], const struct pd_error *error, size_t more)
{
    bool named = error->item[0] != '\0';

    (void)snprintf(reason, REASON_MOST, "%s%s%s", error->item, named ? ": " : "", error->text);
    if (more > 0) {
        size_t length = strlen(reason);
        (void)snprintf(reason + length, REASON_MOST - length, " (and %zu more)", more);
    }
    for (char *at = reason; (at = strpbrk(at, "\r\n")) != NULL; at++) {
        *at = ' ';
    }
}

static void write_failed(FILE *stream, const struct sweep_plan *plan, size_t combination,
                         const struct pd_strategy_kind *kind, const char *reason)
{
    size_t count;

    (void)pd_summary_columns(&count);
    sweep_row_begin(stream, plan, combination, kind);
    // the comma behind the strategy's name is there; the rest of the summary is empty
    for (size_t i = 0; i + 1 < count; i++) {
        (void)fputc(',', stream);
    }
    pd_csv_text(stream, reason);
    for (size_t i = 0; i < SETTING_COUNT; i++) {
        (void)fputc(',', stream);
    }
    (void)fputc('\n', stream);
}

static struct settings settings_of(const struct pd_plant *plant, const struct pd_strategy *strategy,
                                   const struct pd_limits *limits, const char *title)
{
    struct pd_tank tank = plant->tank;
    struct settings settings = {
        .starts_limit = limits->starts_per_hour,
        .run_limit = limits->shortest_run,
        .tap_limit = limits->tap_pressure,
        .title = title,
        .start_pressure = strategy->start_pressure,
        .stop_pressure = strategy->stop_pressure,
        .precharge = strategy->precharge,
        .drawdown = NAN,
    };

    // a strategy that stops by flow has no pressure to count from
    tank.precharge = strategy->precharge + plant->atmosphere;
    if (isfinite(strategy->start_pressure) && isfinite(strategy->stop_pressure)) {
        settings.drawdown = pd_tank_drawdown(&tank, strategy->start_pressure + plant->atmosphere,
                                             strategy->stop_pressure + plant->atmosphere);
    }
    return settings;
}

static void write_day(FILE *stream, const struct sweep_plan *plan, size_t combination,
                      const struct pd_report_day *day, const struct settings *settings)
{
    enum pd_unit_system units = plan->options->units;
    size_t count;
    const struct pd_column *columns = pd_summary_columns(&count);

    // the strategy's name, the first column of the summary, stands already
    sweep_row_begin(stream, plan, combination, day->result.strategy.kind);
    pd_csv_fields(stream, columns + 1, count - 1, units, day);
    (void)fputs(",,", stream);
    pd_csv_row(stream, setting_columns, SETTING_COUNT, units, settings);
}

/* What a thread is about while it simulates one combination. */
struct turn {
    struct sweep_bench *bench;
    size_t combination;
    FILE *stream;
    struct pd_limits limits;
    char title[PD_PATH_MOST];
    struct pd_day_options day;
};

/* One strategy's row.  False if the day was stopped. */
static bool write_strategy(const struct turn *turn, const struct pd_plant *plant,
                           const struct pd_strategy_kind *kind)
{
    const struct sweep_plan *plan = turn->bench->plan;
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_day_result result;
    struct pd_error error = {.code = PD_DONE};
    char verdict[PD_VERDICT_MOST];
    char reason[REASON_MOST];

    if (!pd_day_run(turn->bench->day, plant, &strategy, &turn->day, &result, &error)) {
        say_why(reason, &error, 0);
        write_failed(turn->stream, plan, turn->combination, kind, reason);
        // a day that was stopped failed for no reason of its own
        return turn->day.go_on(turn->day.go_on_context);
    }
    bool good = pd_verdict(&result, plant, verdict);
    struct pd_report_day shown =
        pd_report_day_for(&result, pd_day_cost(&turn->bench->scenario, &result),
                          turn->limits.tap_pressure, good, verdict);
    struct settings settings = settings_of(plant, &strategy, &turn->limits, turn->title);
    write_day(turn->stream, plan, turn->combination, &shown, &settings);
    return true;
}

static void write_all_failed(const struct turn *turn, const struct pd_error *error, size_t more)
{
    const struct sweep_plan *plan = turn->bench->plan;
    char reason[REASON_MOST];

    say_why(reason, error, more);
    for (size_t i = 0; i < plan->strategy_count; i++) {
        write_failed(turn->stream, plan, turn->combination, plan->strategies[i], reason);
    }
}

bool sweep_rows_write(struct sweep_bench *bench, size_t combination, FILE *stream,
                      bool (*go_on)(void *context), void *go_on_context, struct pd_error *error)
{
    const struct sweep_plan *plan = bench->plan;
    struct turn turn = {
        .bench = bench, .combination = combination, .stream = stream, .day = plan->options->day};
    struct pd_error fault = {.code = PD_DONE};
    struct pd_plant plant;
    bool whole = true;

    turn.day.trace = NULL;
    turn.day.trace_every = 0;
    turn.day.go_on = go_on;
    turn.day.go_on_context = go_on_context;
    if (!apply(bench, combination)) {
        write_all_failed(&turn, &bench->faults.list[0], bench->faults.count - 1);
        return true;
    }
    if (!pd_plant_build(&bench->scenario, &plant, &fault)) {
        // what is no fault of the combination's values is one of the whole sweep
        if (fault.code != PD_BAD_INPUT) {
            *error = fault;
            return false;
        }
        write_all_failed(&turn, &fault, 0);
        return true;
    }
    turn.limits = pd_limits_for(&bench->scenario);
    pd_report_title(&bench->scenario, turn.title);
    for (size_t i = 0; whole && i < plan->strategy_count; i++) {
        whole = write_strategy(&turn, &plant, plan->strategies[i]);
    }
    pd_plant_free(&plant);
    return whole;
}
