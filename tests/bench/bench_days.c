/* What days cost: a line for each scenario and strategy, `day SCENARIO STRATEGY STARTS STEPS CALLS
 * MILLISECONDS`, and one for the memory, `memory KILOBYTES`.  With --draws N the draws of a
 * scenario are replaced by N equal ones, evenly through the day; with --times N each day is run N
 * times in one workspace and the least time counts.  By the installed headers alone, so that an
 * earlier state of the project can be built with it too. */
#include <pumpday/pumpday.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { STRATEGIES = 3 };

static double clock_now(void)
{
    struct timespec now;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Equal draws of 6 L/min and 20 s. */
static bool give_draws(struct pd_scenario *scenario, size_t count)
{
    struct pd_draw *draws = realloc(scenario->draws, count * sizeof *draws);

    if (draws == NULL) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        double time = 86400.0 * ((double)i + 0.5) / (double)count;
        draws[i] = (struct pd_draw){.time = time, .flow = 1e-4, .duration = 20, .volume = NAN};
    }
    scenario->draws = draws;
    scenario->draw_count = count;
    return true;
}

static bool bench_day(struct pd_day *day, const struct pd_plant *plant, const char *name,
                      size_t kind, int times)
{
    struct pd_day_options options = pd_day_default();
    struct pd_strategy strategy = pd_strategy_for(pd_strategies[kind], plant);
    struct pd_day_result result = {0};
    struct pd_error error = {0};
    double least = INFINITY;

    for (int i = 0; i < times; i++) {
        double began = clock_now();
        if (!pd_day_run(day, plant, &strategy, &options, &result, &error)) {
            pd_error_print(stderr, &error);
            return false;
        }
        least = fmin(least, clock_now() - began);
    }
    printf("day %s %s %d %ld %ld %.4f\n", name, pd_strategies[kind]->name, result.starts,
           result.effort.steps, result.effort.rhs_calls, 1e3 * least);
    return true;
}

static bool bench_scenario(struct pd_day *day, const char *folder, size_t draws, int times)
{
    static struct pd_faults faults;
    const char *stroke = strrchr(folder, '/');
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_error error = {0};

    faults.count = 0;
    if (!pd_scenario_read(folder, NULL, 0, &scenario, &faults)) {
        pd_faults_print(stderr, &faults);
        return false;
    }
    bool good = draws == 0 || give_draws(&scenario, draws);
    if (good && pd_plant_build(&scenario, &plant, &error)) {
        for (size_t kind = 0; good && kind < STRATEGIES; kind++) {
            good = bench_day(day, &plant, stroke != NULL ? stroke + 1 : folder, kind, times);
        }
        pd_plant_free(&plant);
    } else {
        pd_error_print(stderr, &error);
        good = false;
    }
    pd_scenario_free(&scenario);
    return good;
}

/* The most memory that this program has held at once, kB; 0 where the system does not tell. */
static long memory_most(void)
{
    FILE *status = fopen("/proc/self/status", "r");
    char line[200];
    long most = 0;

    while (status != NULL && fgets(line, sizeof line, status) != NULL) {
        if (strncmp(line, "VmHWM:", strlen("VmHWM:")) == 0) {
            most = strtol(line + strlen("VmHWM:"), NULL, 10);
        }
    }
    if (status != NULL) {
        (void)fclose(status);
    }
    return most;
}

int main(int argc, char **argv)
{
    struct pd_error error = {0};
    struct pd_day *day = pd_day_create(&error);
    bool good = day != NULL;
    size_t draws = 0;
    int times = 5;

    for (int i = 1; i < argc && good; i++) {
        if (strcmp(argv[i], "--draws") == 0 && i + 1 < argc) {
            draws = strtoul(argv[++i], NULL, 10);
        } else if (strcmp(argv[i], "--times") == 0 && i + 1 < argc) {
            times = (int)strtol(argv[++i], NULL, 10);
        } else {
            good = bench_scenario(day, argv[i], draws, times);
        }
    }
    pd_day_free(day);
    printf("memory %ld\n", memory_most());
    return good ? 0 : 1;
}
