/* `pumpday sheet`: a commissioning sheet to print and take along. */
#include "cli/commands.h"
#include "cli/steps.h"

#include "base/text.h"
#include "output/one_file.h"
#include "present/sheet_content.h"

#include <pumpday/sheet.h>

#include <string.h>

enum { STRATEGY, SET, UNITS, OUT, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = {"strategy", 0, "NAME", "one of " STRATEGIES_MARK},
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the sheet (as the scenario)"),
    [OUT] = {NULL, 'o', "FILE", "FILE.html to print, FILE.txt for text; without it text is shown"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "sheet",
    .words = "SCENARIO",
    .about =
        "Writes a sheet (two sides of paper) for putting a booster into service under one "
        "strategy:\n"
        "settings, order of work, the readings to expect from gauge, watch and bucket, simulated\n"
        "at the lowest, mean and highest supply of the day, with room for the measured ones, and "
        "a\n"
        "leak test. It judges first, as check does: where something fails, the sheet opens with\n"
        "what must be put right before, and the exit code is 1.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday sheet scenarios/hillside-house --strategy pressure-start --units us \\\n"
               "      -o out/sheet.html\n",
};

/* Half a division of a usual dial in psi; common practice, no source. */
static const double us_gauge_step = 6894.757; /* Pa: 1 psi */

/* What the command line asks for. */
struct request {
    struct common common;
    const char *file;
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;
    enum pd_unit_system units;
};

static bool ends_with(const char *text, const char *ending)
{
    size_t length = strlen(text), more = strlen(ending);

    return length > more && pd_text_same(text + length - more, ending);
}

static bool is_page(const char *file)
{
    return file != NULL && (ends_with(file, ".html") || ends_with(file, ".htm"));
}

static int set_file(struct request *request, const char *value)
{
    if (!is_page(value) && !ends_with(value, ".txt")) {
        char shown[128];
        pd_text_show(shown, sizeof shown, value);
        return usage_wrong(&usage, "-o: got \"%s\", expected a name that ends in .html or .txt",
                           shown);
    }
    request->file = value;
    return PD_DONE;
}

static int take(void *context, int found, const char *value)
{
    return found == OUT ? set_file(context, value) : PD_BAD_USAGE;
}

static int check_request(void *context)
{
    const struct request *request = context;
    int code = scenario_needed(&usage, request->common.scenario);
    if (code == PD_DONE && request->strategy_count != 1) {
        return usage_wrong(&usage, "which strategy? one --strategy NAME is needed");
    }
    return code;
}

static const struct line_reader line = {&usage, HELP, take, check_request};

static int write_sheet(const struct request *request, const struct sheet_content *content)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};

    if (request->file == NULL) {
        sheet_write_text(stdout, content);
        return PD_DONE;
    }
    if (!pd_one_file_open(&outputs, request->file, &error)) {
        return error_tell(&error);
    }
    if (is_page(request->file)) {
        sheet_write_html(outputs.file[0].stream, content);
    } else {
        sheet_write_text(outputs.file[0].stream, content);
    }
    if (!pd_outputs_commit(&outputs, &error)) {
        return error_tell(&error);
    }
    written_tell(request->file);
    return PD_DONE;
}

static int run(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    struct pd_sheet_options wanted = pd_sheet_default();
    struct pd_sheet sheet;
    struct sheet_content content;
    struct pd_error error = {.code = PD_DONE};

    wanted.day.go_on = progress_go_on;
    wanted.gauge_step = request->units == PD_UNITS_US ? us_gauge_step : wanted.gauge_step;
    if (!pd_sheet_make(scenario, request->strategies[0], &wanted, &sheet, &error)) {
        return error_tell(&error);
    }
    sheet_content_fill(&content, scenario, &sheet, request->units);
    int code = write_sheet(request, &content);
    return code == PD_DONE && sheet.findings.fails > 0 ? PD_VERDICT_FAILS : code;
}

int cmd_sheet(int argc, char **argv)
{
    struct request request = {.units = PD_UNITS_SI};

    request.common.strategies = request.strategies;
    request.common.strategy_count = &request.strategy_count;
    request.common.units = &request.units;
    return command_run(&line, argc, argv, &request.common, run);
}
