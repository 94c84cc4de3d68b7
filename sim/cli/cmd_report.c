/* `pumpday report`: one scenario compared, as a page for the client. */
#include "cli/commands.h"
#include "cli/scripts.h"
#include "cli/several.h"
#include "cli/steps.h"

#include "base/text.h"

#include <pumpday/pumpday.h>

enum { STRATEGY, SET, DAYS, UNITS, OUT, SCRIPTS, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [DAYS] = {"days", 0, "N", "so many days of the household, where there is one; 0: none (100)"},
    [UNITS] = OPTION_UNITS("units of the page (as the scenario)"),
    [OUT] = {NULL, 'o', "FILE.html", "where the page goes; must be given"},
    [SCRIPTS] = {"scripts", 0, "DIR", "draw by the scripts of this folder, not by the program's"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "report",
    .words = "SCENARIO[*DAYS]...",
    .about =
        "Simulates the scenario's day under each strategy and writes one page to hand to a\n"
        "client: the system, a verdict on each strategy with its reason, the figures, the\n"
        "charts, energy and cost, assumptions and cautions. The page needs no other file and\n"
        "no network, and prints on A4 and Letter. Charts need gnuplot. Several scenarios stand in\n"
        "one table at the top, with their sums, each for so many days as stand behind its *.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday report scenarios/hillside-house -o out/hillside.html\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    struct several several;
    const char *path, *scripts;
    struct pd_report_options report;
};

/* One day has no interval. */
static int take_days(struct request *request, const char *value)
{
    int code = choose_whole(&usage, "--days", 0, 100000, &request->report.days, value);

    return code == PD_DONE && request->report.days == 1
               ? usage_wrong(&usage,
                             "--days: one day tells nothing of others; expected 0, or 2 and "
                             "more")
               : code;
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;

    switch (found) {
    case DAYS:
        return take_days(request, value);
    case SCRIPTS:
        request->scripts = value;
        return PD_DONE;
    case OPTION_WORD:
        return several_take(&usage, &request->several, value);
    default:
        return PD_BAD_USAGE;
    }
}

static int check_request(void *context)
{
    const struct request *request = context;
    bool named = request->several.count > 0;

    if (named && request->path == NULL) {
        return usage_wrong(&usage, "where to? name a file with -o");
    }
    return scenario_needed(&usage, named ? request->several.folder[0] : NULL);
}

static const struct line_reader line = {&usage, HELP, take, check_request};

static bool write_report(const struct request *request, const struct pd_report_options *report,
                         char no_charts[PD_TEXT_MOST], struct pd_error *error)
{
    const struct several *several = &request->several;

    if (several_is_one(several)) {
        return pd_report_write(several->list[0].scenario, report, request->path, no_charts, error);
    }
    return pd_report_write_several(several->list, several->count, report, request->path, no_charts,
                                   error);
}

static int run(const struct request *request)
{
    struct pd_report_options report = request->report;
    struct pd_error error = {.code = PD_DONE};
    char scripts[PD_PATH_MOST];
    char no_charts[PD_TEXT_MOST];

    // scripts asked for by name must be there; without the program's own the page has no charts
    bool found = scripts_find(request->scripts, scripts, &error);
    if (!found && request->scripts != NULL) {
        return error_tell(&error);
    }
    error = (struct pd_error){.code = PD_DONE};
    report.scripts = found ? scripts : NULL;
    report.sets = request->common.sets.list;
    report.set_count = request->common.sets.count;
    report.compare.day.go_on = progress_go_on;
    if (!write_report(request, &report, no_charts, &error)) {
        return error_tell(&error);
    }
    if (no_charts[0] != '\0') {
        (void)fputs("note: the page has no charts: ", stderr);
        pd_text_put(stderr, no_charts);
        (void)fputc('\n', stderr);
    }
    written_tell(request->path);
    return PD_DONE;
}

int cmd_report(int argc, char **argv)
{
    static struct request request;
    struct common *common = &request.common;
    struct pd_compare_options *compare = &request.report.compare;
    int code;

    request.report = pd_report_default();
    common->own_words = true;
    common->strategies = compare->strategies;
    common->strategy_count = &compare->strategy_count;
    common->units = &compare->units;
    common->file = &request.path;
    if (!common_line_read(&line, argc, argv, common, &code)) {
        return code;
    }
    code = several_read(&request.several, &common->sets, common->units_told ? NULL : common->units);
    if (code == PD_DONE) {
        code = run(&request);
        several_free(&request.several);
    }
    return code;
}
