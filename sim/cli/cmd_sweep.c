/* `pumpday sweep`: every combination of some items' values under every strategy. */
#include "cli/commands.h"
#include "cli/countdown.h"
#include "cli/interrupt.h"
#include "cli/steps.h"

#include "base/text.h"
#include "present/sweep_table.h"

#include <pumpday/pumpday.h>

#include <string.h>

enum { SHOWN_MOST = 128 };

enum { VARY, STRATEGY, SET, UNITS, JOBS, RESUME, OUT, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [VARY] = {"vary", 0, "ITEM=VALUES",
              "FROM:TO:STEP or a,b,c with one unit behind; up to six items"},
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the summary columns (as the scenario)"),
    [JOBS] = OPTION_JOBS,
    [RESUME] = {"resume", 0, NULL, "go on with what an interrupted sweep left in FILE.part"},
    [OUT] = {NULL, 'o', "FILE", "the CSV file to write"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "sweep",
    .words = "SCENARIO",
    .about = "Simulates the scenario's day for every combination of the values given, under each\n"
             "strategy, and writes a CSV file with a row a day: the varied items, the columns of\n"
             "summary.csv, the reason where a combination failed, and the tank's drawdown between\n"
             "stop and start pressure (thermal gas: that of a draw so slow that the gas keeps its\n"
             "temperature; a usual draw gives less). At most 1000000 combinations.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday sweep scenarios/hillside-house --vary tank.precharge=0:80:5psi \\\n"
               "      --vary tank.gas=isothermal,thermal -o out/precharge.csv\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    struct pd_varied varied[PD_VARIED_MOST];
    struct pd_sweep_options sweep;
};

static int add_varied(struct request *request, const char *value)
{
    struct pd_sweep_options *sweep = &request->sweep;
    struct pd_error error = {.code = PD_DONE};

    if (sweep->varied_count == PD_VARIED_MOST) {
        return usage_wrong(&usage, "more than %d times --vary", (int)PD_VARIED_MOST);
    }
    if (!pd_varied_read(value, &request->varied[sweep->varied_count], &error)) {
        return usage_wrong(&usage, "--vary: %s%s%s", error.item, error.item[0] != '\0' ? ": " : "",
                           error.text);
    }
    sweep->varied_count++;
    return PD_DONE;
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;

    switch (found) {
    case VARY:
        return add_varied(request, value);
    case RESUME:
        request->sweep.resume = true;
        return PD_DONE;
    default:
        return PD_BAD_USAGE;
    }
}

static int check_request(void *context)
{
    const struct request *request = context;
    if (request->common.scenario == NULL) {
        return scenario_needed(&usage, NULL);
    }
    if (request->sweep.varied_count == 0) {
        return usage_wrong(&usage, "what varies? --vary is missing");
    }
    if (request->sweep.file == NULL) {
        return usage_wrong(&usage, "where to? -o FILE is missing");
    }
    return PD_DONE;
}

static const struct line_reader line = {&usage, HELP, take, check_request};

static int tell_interrupt(const struct pd_sweep_options *sweep,
                          const struct pd_sweep_totals *totals)
{
    char shown[PD_PATH_MOST];

    pd_text_show(shown, sizeof shown, sweep->file);
    (void)fprintf(stderr,
                  "pumpday: interrupted; %s.part holds %zu of %zu combinations, the same command "
                  "with --resume goes on\n",
                  shown, totals->done, totals->combinations);
    return interrupt_exit_code();
}

static int run(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    struct countdown countdown = countdown_begin("combinations");
    struct pd_sweep_options sweep = request->sweep;
    struct pd_sweep_totals totals;
    struct pd_error error = {.code = PD_DONE};
    char shown[PD_PATH_MOST];

    sweep.day.go_on = progress_go_on;
    sweep.progress = countdown_tell;
    sweep.progress_context = &countdown;
    bool good = pd_sweep(scenario, &sweep, &totals, &error);
    countdown_end(&countdown);
    if (!good && error.code == PD_INTERRUPTED) {
        return tell_interrupt(&sweep, &totals);
    }
    if (!good && error.code == PD_BAD_USAGE) {
        return usage_wrong(&usage, "--vary: %s", error.text);
    }
    if (good) {
        day_title_print(scenario);
        (void)printf("\n");
        good = pd_sweep_table_write(stdout, sweep.file, sweep.varied_count, &error);
    }
    if (!good) {
        pd_error_print(stderr, &error);
        return (int)error.code;
    }
    pd_text_show(shown, sizeof shown, sweep.file);
    (void)printf("%s\n", shown);
    return PD_DONE;
}

int cmd_sweep(int argc, char **argv)
{
    struct request request = {.sweep = pd_sweep_default()};

    request.sweep.varied = request.varied;
    request.common.strategies = request.sweep.strategies;
    request.common.strategy_count = &request.sweep.strategy_count;
    request.common.units = &request.sweep.units;
    request.common.jobs = &request.sweep.jobs;
    request.common.file = &request.sweep.file;
    return command_run(&line, argc, argv, &request.common, run);
}
