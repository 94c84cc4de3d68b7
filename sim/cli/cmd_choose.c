/* `pumpday choose`: pump, tank and strategy of a catalogue at the least cost. */
#include "cli/commands.h"
#include "cli/countdown.h"
#include "cli/steps.h"

#include "output/one_file.h"
#include "present/choose_table.h"

#include <pumpday/choose.h>

enum { PUMPS, TANKS, COUNT, SHARE, SEED, STRATEGY, SET, UNITS, JOBS, OUT, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [PUMPS] = {"pumps", 0, "FILE.csv", "pumps on offer: name,file,price,motor_power [kW]"},
    [TANKS] = {"tanks", 0, "FILE.csv",
               "tanks on offer: name,volume [L],price,rated_pressure [bar]"},
    [COUNT] = {"count", 0, "N", "days of the household for each (100)"},
    [SHARE] = {"share", 0, "PERCENT", "of the days must pass (99)"},
    [SEED] = {"seed", 0, "S", "other days of the same household (1)"},
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the settings told (as the scenario)"),
    [JOBS] = OPTION_JOBS,
    [OUT] = {NULL, 'o', "FILE", "write all of them by rank as CSV"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "choose",
    .words = "SCENARIO",
    .about =
        "Runs the household's days with each pump and each tank on offer under each strategy, at\n"
        "the settings that `settings` finds for them, and ranks those that pass on enough of the\n"
        "days by what they cost over cost.years: bought, energy, maintenance and pumps bought "
        "anew,\n"
        "as present value (the cost.* items). Without --pumps or --tanks those of the scenario\n"
        "stay. The exit code is 1 if none passes.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example =
        "  pumpday choose scenarios/ten-flats --pumps scenarios/ten-flats/offers/pumps.csv \\\n"
        "      --tanks scenarios/ten-flats/offers/tanks.csv -o out/choice.csv\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    const char *pumps, *tanks, *file;
    struct pd_choose_options choose;
    double share; /* % */
    enum pd_unit_system units;
};

static int set_seed(struct request *request, const char *value)
{
    long seed = 0;
    int code = choose_whole(&usage, "--seed", 0, 1000000000, &seed, value);

    request->choose.days.seed = (uint64_t)seed;
    return code;
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;

    switch (found) {
    case PUMPS:
        request->pumps = value;
        return PD_DONE;
    case TANKS:
        request->tanks = value;
        return PD_DONE;
    case COUNT:
        return choose_whole(&usage, "--count", 10, 100000, &request->choose.days.count, value);
    case SEED:
        return set_seed(request, value);
    case SHARE:
        return choose_number(&usage, "--share", 50, 100, &request->share, value);
    default:
        return PD_BAD_USAGE;
    }
}

static int check_request(void *context)
{
    struct request *request = context;

    if (request->common.scenario != NULL && request->pumps == NULL && request->tanks == NULL) {
        return usage_wrong(&usage, "among what? name --pumps, --tanks or both");
    }
    request->choose.share = request->share / 100;
    return scenario_needed(&usage, request->common.scenario);
}

static const struct line_reader line = {&usage, HELP, take, check_request};

static bool read_catalogue(const struct request *request, struct pd_catalogue *catalogue)
{
    static struct pd_faults faults;

    faults.count = 0;
    bool good =
        request->pumps == NULL || pd_catalogue_read_pumps(request->pumps, catalogue, &faults);
    good =
        (request->tanks == NULL || pd_catalogue_read_tanks(request->tanks, catalogue, &faults)) &&
        good;
    if (!good) {
        pd_faults_print(stderr, &faults);
    }
    return good;
}

static bool write_file(const struct request *request, const struct pd_catalogue *catalogue,
                       const struct pd_choices *choices, struct pd_error *error)
{
    struct pd_outputs outputs;

    if (request->file == NULL) {
        return true;
    }
    if (!pd_one_file_open(&outputs, request->file, error)) {
        return false;
    }
    pd_choices_write_csv(outputs.file[0].stream, catalogue, choices, request->units);
    return pd_outputs_commit(&outputs, error);
}

static int show(const struct pd_scenario *scenario, const struct request *request,
                const struct pd_catalogue *catalogue, const struct pd_choices *choices)
{
    struct pd_error error = {.code = PD_DONE};

    title_print(scenario);
    (void)printf("%ld days of the household (seed %llu) for each\n\n", request->choose.days.count,
                 (unsigned long long)request->choose.days.seed);
    pd_choices_write_table(stdout, scenario, catalogue, choices, &request->choose, request->units);
    (void)printf(
        "note: each at the settings that `pumpday settings` finds for it on the scenario's "
        "own day; put\n  the one chosen into the scenario and ask `pumpday check`. Cost as "
        "present value: prices rise\n  %.4g %% a year, interest is %.4g %%; in brackets its "
        "range by the 95 %% interval of mean energy.\n",
        100 * scenario->value[PD_COST_PRICE_RISE], 100 * scenario->value[PD_COST_DISCOUNT_RATE]);
    if (!write_file(request, catalogue, choices, &error)) {
        return error_tell(&error);
    }
    if (request->file != NULL) {
        written_tell(request->file);
    }
    return choices->list[0].passes ? PD_DONE : PD_VERDICT_FAILS;
}

static int run(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    static struct pd_catalogue catalogue;
    struct countdown countdown = countdown_begin("pumps and tanks");
    struct pd_choose_options choose = request->choose;
    struct pd_choices choices;
    struct pd_error error = {.code = PD_DONE};

    if (!read_catalogue(request, &catalogue)) {
        return PD_BAD_INPUT;
    }
    if (request->file != NULL && !pd_one_file_try(request->file, &error)) {
        return error_tell(&error);
    }
    choose.days.day.go_on = progress_go_on;
    choose.progress = countdown_tell;
    choose.progress_context = &countdown;
    bool good = pd_choose(scenario, &catalogue, &choose, &choices, &error);
    countdown_end(&countdown);
    if (!good) {
        return error_tell(&error);
    }
    int code = show(scenario, request, &catalogue, &choices);
    pd_choices_free(&choices);
    return code;
}

int cmd_choose(int argc, char **argv)
{
    struct request request = {.choose = pd_choose_default(), .share = 99};

    request.common.strategies = request.choose.strategies;
    request.common.strategy_count = &request.choose.strategy_count;
    request.common.units = &request.units;
    request.common.jobs = &request.choose.days.jobs;
    request.common.file = &request.file;
    return command_run(&line, argc, argv, &request.common, run);
}
