/* `pumpday settings`: what to set for each strategy, and the smallest tank that will do. */
#include "cli/choices.h"
#include "cli/commands.h"
#include "cli/interrupt.h"
#include "cli/options.h"

#include "base/text.h"
#include "report/one_file.h"
#include "report/settings_table.h"

#include <pumpday/settings.h>

#include <time.h>
#include <unistd.h>

enum { SHOWN_MOST = 128 };

enum { STRATEGY, SET, UNITS, OUT, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = {"strategy", 0, "NAME",
                  "only this one; may be repeated (pressure-start, flow-start, peak-only)"},
    [SET] = {"set", 0, "ITEM=VALUE", "put a value in place of that of site.csv; may be repeated"},
    [UNITS] = {"units", 0, "si|us", "units of the table and of the dials to set (si)"},
    [OUT] = {NULL, 'o', "FILE", "write the preferred settings as rows of site.csv"},
    [HELP] = {"help", 'h', NULL, "this text"},
};

static const struct usage usage = {
    .command = "settings",
    .words = "SCENARIO",
    .about =
        "Finds by simulating what to set for each strategy: start pressure or flow, stop flow,\n"
        "run-on, precharge, and the smallest tank of tank.sizes that keeps the day within its\n"
        "limits; shows the day when supply, draws or precharge are off, says which strategy it\n"
        "prefers and why, or why none will do. A stop pressure given in site.csv tells that the\n"
        "controller is a two-pressure switch, and stays; other settings there are not looked at.\n"
        "The exit code is 1 if none will do.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday settings scenarios/hillside-house --units us \\\n"
               "      --set \"tank.sizes=2 5 8 20 44 gal\" -o out/settings.csv\n",
};

/* What the command line asks for. */
struct request {
    const char *scenario, *file;
    struct sets sets;
    struct pd_settings_options settings;
};

static int take(struct request *request, int found, const char *value)
{
    struct pd_settings_options *settings = &request->settings;

    switch (found) {
    case STRATEGY:
        return choose_strategy(&usage, settings->strategies, &settings->strategy_count, value);
    case SET:
        return choose_set(&usage, &request->sets, value);
    case UNITS:
        return choose_units(&usage, &settings->units, value);
    case OUT:
        return choose_file(&usage, &request->file, value);
    case OPTION_WORD:
        return choose_scenario(&usage, &request->scenario, value);
    default:
        return PD_BAD_USAGE;
    }
}

/* Reads the command line.  *wants_help is set where only help is asked for. */
static int read_request(int argc, char **argv, struct request *request, bool *wants_help)
{
    struct option_reader reader = option_reader_for(&usage, argc, argv);
    const char *value;
    int code = PD_DONE;

    *request = (struct request){.settings = pd_settings_default()};
    for (int found; code == PD_DONE && (found = option_next(&reader, &value)) != OPTION_END;) {
        if (found == HELP) {
            *wants_help = true;
            return PD_DONE;
        }
        code = take(request, found, value);
    }
    if (code == PD_DONE && request->scenario == NULL) {
        return usage_wrong(&usage, "which scenario? its folder is missing");
    }
    return code;
}

/* Asked by the simulation now and then; says so on a terminal once it takes a while. */
struct progress {
    time_t begun;
    bool told;
};

static bool go_on(void *context)
{
    struct progress *progress = context;

    if (!progress->told && isatty(STDERR_FILENO) == 1 && time(NULL) - progress->begun >= 2) {
        progress->told = true;
        (void)fputs("simulating...\n", stderr);
    }
    return !interrupt_came();
}

static int tell_error(const struct pd_error *error)
{
    if (interrupt_came()) {
        (void)fputs("pumpday: interrupted; no file was written\n", stderr);
        return interrupt_exit_code();
    }
    pd_error_print(stderr, error);
    return (int)error->code;
}

static void print_settings(const struct pd_scenario *scenario, const struct request *request,
                           const struct pd_settings *settings)
{
    enum pd_unit_system units = request->settings.units;
    char shown[SHOWN_MOST];

    pd_text_show(shown, sizeof shown,
                 scenario->title[0] != '\0' ? scenario->title : scenario->folder);
    (void)printf("%s\n\n", shown);
    pd_settings_write_table(stdout, scenario, settings, &request->settings);
    (void)printf("\n");
    pd_settings_write_reason(stdout, scenario, settings, units);
    if (settings->preferred < settings->count) {
        (void)printf("\nthe preferred settings, for this program:\n");
        pd_setting_write_sets(stdout, scenario, &settings->setting[settings->preferred], units);
    }
    (void)printf(
        "\ncaution: set the precharge with the tank drained to zero gauge and the pump off, "
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
        return tell_error(&error);
    }
    pd_setting_write_rows(outputs.file[0].stream, scenario, &settings->setting[settings->preferred],
                          request->settings.units);
    return pd_outputs_commit(&outputs, &error) ? PD_DONE : tell_error(&error);
}

static int run(const struct pd_scenario *scenario, const struct request *request)
{
    struct progress progress = {.begun = time(NULL)};
    struct pd_settings_options watched = request->settings;
    struct pd_settings settings;
    struct pd_error error = {.code = PD_DONE};

    watched.day.go_on = go_on;
    watched.day.go_on_context = &progress;
    interrupt_watch();
    if (!pd_settings_find(scenario, &watched, &settings, &error)) {
        return tell_error(&error);
    }
    print_settings(scenario, request, &settings);
    if (settings.preferred == settings.count) {
        if (request->file != NULL) {
            (void)fputs("pumpday: nothing to write: none will do\n", stderr);
        }
        return PD_VERDICT_FAILS;
    }
    return write_file(scenario, request, &settings);
}

int cmd_settings(int argc, char **argv)
{
    struct request request;
    struct pd_scenario scenario;
    bool wants_help = false;
    int code = read_request(argc, argv, &request, &wants_help);

    if (wants_help) {
        return help_print(&usage);
    }
    if (code != PD_DONE) {
        return code;
    }
    if (!read_scenario(request.scenario, &request.sets, &scenario)) {
        return PD_BAD_INPUT;
    }
    code = run(&scenario, &request);
    pd_scenario_free(&scenario);
    return code;
}
