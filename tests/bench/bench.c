/* What a strategy-day costs, beside the same equations by a fixed-step fourth-order scheme at the
 * largest step that still finds the same starts. */
#include "bench/fixed_step.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

typedef bool run_function(struct pd_day *day, const struct pd_plant *plant,
                          const struct pd_strategy *strategy, const struct pd_day_options *options,
                          struct pd_day_result *result, struct pd_error *error);

/* Steps tried, the largest first [s]; a start found within this of CVODE's counts as the same. */
static const double steps[] = {1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001};
static const double same_start = 0.5; /* s */

static double clock_now(void)
{
    struct timespec now;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* One strategy-day, run some times; the least time in ms, or -1 if it fails. */
static double least_time(run_function *run, struct pd_day *day, const struct pd_plant *plant,
                         const struct pd_strategy *strategy, int times,
                         struct pd_day_result *result)
{
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {0};
    double least = INFINITY;

    for (int i = 0; i < times; i++) {
        double began = clock_now();
        if (!run(day, plant, strategy, &options, result, &error)) {
            pd_error_print(stderr, &error);
            return -1.0;
        }
        least = fmin(least, clock_now() - began);
    }
    return 1e3 * least;
}

static bool same_starts(const struct pd_day_result *a, const struct pd_day_result *b)
{
    if (a->run_count != b->run_count) {
        return false;
    }
    for (size_t i = 0; i < a->run_count; i++) {
        if (!(fabs(a->runs[i].start - b->runs[i].start) <= same_start)) {
            return false;
        }
    }
    return true;
}

/* Largest fixed step that finds the same starts, and its time in ms; NAN if none does. */
static double fixed_time(struct pd_day *fixed, const struct pd_plant *plant,
                         const struct pd_strategy *strategy, const struct pd_day_result *wanted,
                         double *step)
{
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        struct pd_day_result result;
        fixed_step = steps[i];
        double spent = least_time(fixed_day_run, fixed, plant, strategy, 1, &result);
        if (spent >= 0.0 && same_starts(wanted, &result)) {
            *step = steps[i];
            return spent;
        }
    }
    *step = NAN;
    return NAN;
}

static void bench_strategy(struct pd_day *day, struct pd_day *fixed, const struct pd_plant *plant,
                           const struct pd_strategy_kind *kind)
{
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_day_result result;
    double step;
    double spent = least_time(pd_day_run, day, plant, &strategy, 20, &result);
    double beside = fixed_time(fixed, plant, &strategy, &result, &step);

    printf("  %-14s %6d %6ld %8ld %7ld %8ld %8ld %7.2f %8g %9.1f %7.0f %6ld\n", kind->name,
           result.starts, result.effort.events, result.effort.restarts, result.effort.steps,
           result.effort.rhs_calls, result.effort.root_calls, spent, step, beside, beside / spent,
           result.effort.caught);
}

static bool bench_scenario(struct pd_day *day, struct pd_day *fixed, const char *folder)
{
    static struct pd_faults faults;
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_error error = {0};

    faults.count = 0;
    if (!pd_scenario_read(folder, NULL, 0, &scenario, &faults)) {
        pd_faults_print(stderr, &faults);
        return false;
    }
    if (!pd_plant_build(&scenario, &plant, &error)) {
        pd_error_print(stderr, &error);
        pd_scenario_free(&scenario);
        return false;
    }
    printf("%s, %zu draws\n", folder, scenario.draw_count);
    printf("  %-14s %6s %6s %8s %7s %8s %8s %7s %8s %9s %7s %6s\n", "strategy", "starts", "events",
           "restarts", "steps", "rhs", "roots", "ms", "RK4 [s]", "RK4 [ms]", "ratio", "caught");
    for (size_t i = 0; i < pd_strategy_count; i++) {
        bench_strategy(day, fixed, &plant, pd_strategies[i]);
    }
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
    return true;
}

int main(int argc, char **argv)
{
    struct pd_error error = {0};
    struct pd_day *day = pd_day_create(&error);
    struct pd_day *fixed = fixed_day_create(&error);
    bool good = day != NULL && fixed != NULL;

    for (int i = 1; i < argc && good; i++) {
        good = bench_scenario(day, fixed, argv[i]);
    }
    pd_day_free(day);
    fixed_day_free(fixed);
    return good ? 0 : 1;
}
