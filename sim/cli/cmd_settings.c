/* `pumpday settings`: what to set for each strategy, and the smallest tank that will do. */
#include "cli/commands.h"
#include "cli/steps.h"

#include "output/one_file.h"
#include "present/settings_reason.h"
#include "present/settings_table.h"

#include <pumpday/settings.h>

enum { STRATEGY, SET, UNITS, OUT, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the table and of the dials to set (as the scenario)"),
    [OUT] = {NULL, 'o', "FILE", "write the preferred settings as rows of site.csv"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "settings",
    .words = "SCENARIO",
    .about =
        "Finds by simulating what to set for each strategy: start pressure or flow, stop flow,\n"
        "run-on, precharge, and the smallest tank of tank.sizes that keeps the day within its\n"
        "limits and the taps at demand.wanted_pressure; shows the day when supply, draws or\n"
        "precharge are off, one by one and together, and when a tap trickles; says which strategy\n"
        "it prefers and why, or that no booster is needed and what would make one needed, or why\n"
        "none will do. A stop pressure given in site.csv tells that the controller is a\n"
        "two-pressure switch, and stays; other settings there are not looked at.\n"
        "The exit code is 1 if none will do, or if there is nothing to write with -o.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday settings scenarios/hillside-house --units us \\\n"
               "      --set \"tank.sizes=2 5 8 20 44 gal\" -o out/settings.csv\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    const char *file;
    struct pd_settings_options settings;
};

static int check_request(void *context)
{
    const struct request *request = context;

    return scenario_needed(&usage, request->common.scenario);
}

static const struct line_reader line = {&usage, HELP, NULL, check_request};

static void print_settings(const struct pd_scenario *scenario, const struct request *request,
                           const struct pd_settings *settings)
{
    enum pd_unit_system units = request->settings.units;

    day_title_print(scenario);
    (void)printf("\n");
    pd_settings_write_table(stdout, scenario, settings, &request->settings);
    (void)printf("\n");
    pd_settings_write_reason(stdout, scenario, settings, &request->settings);
    if (settings->preferred < settings->count) {
        (void)printf("\nthe preferred settings, for this program:\n");
        pd_setting_write_sets(stdout, scenario, &settings->setting[settings->preferred], units);
    }
    (void)printf("\n");
    pd_settings_write_cautions(stdout, settings, units);
    (void)printf("caution: set the precharge with the tank drained to zero gauge and the pump off, "
                 "start pressure\n  and run-on after it; gauge the result (`pumpday sheet`).\n");
}

static int write_file(const struct pd_scenario *scenario, const struct request *request,
                      const struct pd_settings *settings)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};

    if (request->file == NULL) {
        return PD_DONE;
    }
    if (!pd_one_file_open(&outputs, request->file, &error)) {
        return error_tell(&error);
    }
    pd_setting_write_rows(outputs.file[0].stream, scenario, &settings->setting[settings->preferred],
                          request->settings.units);
    return pd_outputs_commit(&outputs, &error) ? PD_DONE : error_tell(&error);
}

static int run(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    struct progress progress = progress_begin();
    struct pd_settings_options watched = request->settings;
    struct pd_settings settings;
    struct pd_error error = {.code = PD_DONE};

    watched.day.go_on = progress_go_on;
    watched.day.go_on_context = &progress;
    if (!pd_settings_find(scenario, &watched, &settings, &error)) {
        return error_tell(&error);
    }
    print_settings(scenario, request, &settings);
    bool not_needed = settings.reason == PD_REASON_NOT_NEEDED;
    if (not_needed && request->file == NULL) {
        return PD_DONE;
    }
    if (settings.preferred == settings.count) {
        if (request->file != NULL) {
            (void)fprintf(stderr, "pumpday: nothing to write: %s\n",
                          not_needed ? "no booster needed" : "none will do");
        }
        return PD_VERDICT_FAILS;
    }
    return write_file(scenario, request, &settings);
}

int cmd_settings(int argc, char **argv)
{
    struct request request = {.settings = pd_settings_default()};

    request.common.strategies = request.settings.strategies;
    request.common.strategy_count = &request.settings.strategy_count;
    request.common.units = &request.settings.units;
    request.common.file = &request.file;
    return command_run(&line, argc, argv, &request.common, run);
}
