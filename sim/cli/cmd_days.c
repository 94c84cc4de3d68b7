/* `pumpday days`: many days of a household, and how sure a verdict is. */
#include "cli/commands.h"
#include "cli/countdown.h"
#include "cli/steps.h"

#include "base/text.h"
#include "output/outputs.h"
#include "present/day_scenario.h"
#include "present/days_files.h"
#include "present/days_table.h"
#include "present/limits_text.h"

#include <pumpday/days.h>

#include <math.h>

enum {
    COUNT,
    YEAR,
    UNTIL,
    DAY,
    SEED,
    CARRY,
    STRATEGY,
    SET,
    UNITS,
    JOBS,
    DATABASE,
    OUT,
    HELP,
    OPTION_COUNT
};

static const struct option options[OPTION_COUNT] = {
    [COUNT] = {"count", 0, "N", "so many days, from day 1, a Monday, on (100)"},
    [YEAR] = {"year", 0, NULL, "365 of them"},
    [UNTIL] = {"until", 0, "PERCENT",
               "go on until the share that fails is known to so much (10000 at the most)"},
    [DAY] = {"day", 0, "K", "write day K alone as a scenario into the folder of -o"},
    [SEED] = {"seed", 0, "S", "other days of the same household (1)"},
    [CARRY] = {"carry", 0, NULL,
               "each day begins as the day before ended; without it each repeats itself"},
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the table and the files (as the scenario)"),
    [JOBS] = OPTION_JOBS,
    [DATABASE] = {"database", 0, "FILE.db",
                  "keep the days in an SQLite file; those that are there are not run again"},
    [OUT] = {NULL, 'o', "DIR",
             "write days.csv, days-summary.csv and the worst day into this folder"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "days",
    .words = "SCENARIO",
    .about =
        "Draws days from household.csv and simulates each under each strategy, all strategies on\n"
        "the same days: on how many a limit is broken, with the interval in which the share of "
        "all\n"
        "days lies, and what a day brings. Figures of a day depend on its number and the seed "
        "alone.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday days scenarios/ten-flats --count 200 -o out/days\n"
               "  pumpday days scenarios/ten-flats --day 17 -o out/day-17 && "
               "pumpday compare out/day-17\n",
};

enum { UNTIL_MOST = 10000 };

/* What the command line asks for. */
struct request {
    struct common common;
    const char *folder;
    struct pd_days_options days;
    enum pd_unit_system units;
    bool count_told, year_told;
    double until; /* % */
    long day;     /* 0: all */
};

static int take_count(struct request *request, const char *value)
{
    request->count_told = true;
    return choose_whole(&usage, "--count", 1, PD_DAYS_MOST, &request->days.count, value);
}

static int take_seed(struct request *request, const char *value)
{
    long seed = 0;
    int code = choose_whole(&usage, "--seed", 0, 1000000000, &seed, value);

    request->days.seed = (uint64_t)seed;
    return code;
}

static int take_folder(struct request *request, const char *value)
{
    if (value[0] == '\0') {
        return usage_wrong(&usage, "-o: the name of the folder is empty");
    }
    request->folder = value;
    return PD_DONE;
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;
    struct pd_days_options *days = &request->days;

    switch (found) {
    case COUNT:
        return take_count(request, value);
    case YEAR:
        request->year_told = true;
        return PD_DONE;
    case UNTIL:
        return choose_number(&usage, "--until", 0.1, 50, &request->until, value);
    case DAY:
        return choose_whole(&usage, "--day", 1, PD_DAYS_MOST, &request->day, value);
    case CARRY:
        days->carry = true;
        return PD_DONE;
    case SEED:
        return take_seed(request, value);
    case DATABASE:
        return choose_file(&usage, &days->database, value);
    case OUT:
        return take_folder(request, value);
    default:
        return PD_BAD_USAGE;
    }
}

static int check_request(void *context)
{
    struct request *request = context;

    if (request->day > 0 && request->folder == NULL) {
        return usage_wrong(&usage, "--day goes with -o DIR, where the day's scenario is to stand");
    }
    if (request->day > 0 && request->common.sets.count > 0) {
        return usage_wrong(&usage, "--day copies site.csv as it is and takes no --set");
    }
    if (request->year_told && request->count_told) {
        return usage_wrong(&usage, "--year and --count tell two numbers of days, expected one");
    }
    request->days.count = request->year_told ? 365 : request->days.count;
    request->count_told = request->count_told || request->year_told;
    request->days.until = request->until / 100;
    if (request->until > 0 && !request->count_told) {
        request->days.count = UNTIL_MOST;
    }
    return scenario_needed(&usage, request->common.scenario);
}

static const struct line_reader line = {&usage, HELP, take, check_request};

static void print_head(const struct pd_scenario *scenario, const struct pd_days *days)
{
    static const char *const said[PD_DAY_KIND_COUNT] = {
        [PD_DAY_WEEKEND] = "of them of weekends",
        [PD_DAY_HOLIDAY] = "holidays",
        [PD_DAY_AWAY] = "with nobody at home",
    };
    long count[PD_DAY_KIND_COUNT] = {0};

    for (long day = 1; day <= days->count; day++) {
        count[pd_day_kind_of(&days->calendar, days->seed, day)]++;
    }
    title_print(scenario);
    (void)printf("%ld days of the household (seed %llu)", days->count,
                 (unsigned long long)days->seed);
    for (enum pd_day_kind kind = 0; kind < PD_DAY_KIND_COUNT; kind++) {
        if (said[kind] != NULL && (count[kind] > 0 || kind == PD_DAY_WEEKEND)) {
            (void)printf(", %ld %s", count[kind], said[kind]);
        }
    }
    (void)printf("\n\n");
}

static bool is_known_level(const struct pd_days *days)
{
    return !isnan(pd_days_figure(days, 0, 0, PD_FIGURE_LEVEL));
}

static bool print_days(const struct pd_scenario *scenario, const struct request *request,
                       const struct pd_days *days, struct pd_error *error)
{
    print_head(scenario, days);
    if (!pd_days_write_table(stdout, scenario, days, request->units, error)) {
        return false;
    }
    (void)printf("\n");
    pd_days_write_verdicts(stdout, days);
    pd_limits_write(stdout, "judged by", &days->limits, request->units);
    (void)printf("note: the days differ in what is drawn, and when; supply, pump and settings are "
                 "those of the\n  scenario on all of them. A day alone: --day NUMBER -o DIR.\n");
    if (request->until > 0 && !pd_days_are_precise(days, request->days.until)) {
        (void)printf("note: %.4g %% on either side is not reached with so many days.\n",
                     request->until);
    }
    if (days->calendar.away > 0 && days->count % 365 != 0) {
        (void)printf("note: whether the days away are among so few is chance; --year takes them "
                     "all.\n");
    }
    if (request->days.carry) {
        (void)printf("note: each day begins as the one before it ended (tank, pump%s).\n",
                     is_known_level(days) ? ", water level" : "");
    }
    return true;
}

/* One day, to be looked at closely. */
static int write_day(const struct pd_scenario *scenario, const struct request *request)
{
    struct pd_scenario day;
    struct pd_error error = {.code = PD_DONE};

    if (scenario->use_count == 0) {
        (void)pd_error_set(&error, PD_BAD_INPUT, scenario->folder, 0, "household.csv",
                           "there is none to draw a day from");
        return error_tell(&error);
    }
    if (!pd_scenario_copy(scenario, &day)) {
        (void)pd_error_memory(&error);
        return error_tell(&error);
    }
    bool good =
        pd_days_draw(&day, request->days.seed, request->day, &error) &&
        pd_day_write_scenario(request->folder, &day, request->days.seed, request->day, &error);
    size_t draws = day.draw_count;
    pd_scenario_free(&day);
    if (!good) {
        return error_tell(&error);
    }
    struct pd_calendar calendar = pd_scenario_calendar(scenario);
    (void)printf("day %ld, %s: %zu draws\n", request->day,
                 pd_day_kind_name(pd_day_kind_of(&calendar, request->days.seed, request->day)),
                 draws);
    written_tell(request->folder);
    return PD_DONE;
}

static int run(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    struct countdown countdown = countdown_begin("days");
    struct pd_days_options options_of = request->days;
    struct pd_days days;
    struct pd_error error = {.code = PD_DONE};

    if (request->day > 0) {
        return write_day(scenario, request);
    }
    if (request->folder != NULL && !pd_outputs_try(request->folder, &error)) {
        return error_tell(&error);
    }
    options_of.day.go_on = progress_go_on;
    options_of.progress = countdown_tell;
    options_of.progress_context = &countdown;
    bool good = pd_days_run(scenario, &options_of, &days, &error);
    countdown_end(&countdown);
    if (!good) {
        if (error.code == PD_INTERRUPTED && request->days.database != NULL) {
            (void)fputs("pumpday: the days so far stay in the database; the same line goes on from "
                        "them\n",
                        stderr);
        }
        return error_tell(&error);
    }
    good = print_days(scenario, request, &days, &error) &&
           (request->folder == NULL ||
            (pd_days_show_worst(scenario, &days, &options_of, request->folder, request->units,
                                &error) &&
             pd_days_write_files(request->folder, scenario, &days, request->units, &error)));
    pd_days_free(&days);
    if (!good) {
        return error_tell(&error);
    }
    if (request->folder != NULL) {
        written_tell(request->folder);
    }
    return PD_DONE;
}

int cmd_days(int argc, char **argv)
{
    struct request request = {.days = pd_days_default()};

    request.common.strategies = request.days.strategies;
    request.common.strategy_count = &request.days.strategy_count;
    request.common.units = &request.units;
    request.common.jobs = &request.days.jobs;
    return command_run(&line, argc, argv, &request.common, run);
}
