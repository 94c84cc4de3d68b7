/* `pumpday compare`: the strategies side by side on one scenario. */
#include "cli/commands.h"
#include "cli/several.h"
#include "cli/steps.h"

#include "base/text.h"
#include "present/limits_text.h"
#include "present/several_table.h"
#include "present/table.h"
#include "studies/report_day.h"

#include <pumpday/pumpday.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SHOWN_MOST = 128 };

static const double least_every = 0.1, most_every = 3600;

enum { STRATEGY, SET, UNITS, EVERY, OUT, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the table and the files (as the scenario)"),
    [EVERY] = {"every", 0, "SECONDS", "step of trace.csv, 0.1 to 3600 s (10)"},
    [OUT] = {NULL, 'o', "DIR", "write the files into this folder; without it none is written"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "compare",
    .words = "SCENARIO[*DAYS]...",
    .about =
        "Simulates the scenario's day under each strategy, prints a table of starts, running "
        "time,\n"
        "energy, pressures and verdict, and with -o writes summary.csv, hours.csv, cycles.csv,\n"
        "trace.csv, settings.csv and zoom.csv (all of them or none). Several scenarios stand in "
        "one\n"
        "table with their sums, each for so many days as stand behind its *; -o then writes\n"
        "scenarios.csv, scenarios-hours.csv and scenarios-cycles.csv.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday compare scenarios/hillside-house -o out/hillside --units us \\\n"
               "      --set \"tank.volume=20 gal\" --strategy pressure-start\n"
               "  pumpday compare 'week*5' 'sunday*2' -o out/week\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    struct several several;
    struct pd_compare_options compare;
};

static int set_every(struct request *request, const char *value)
{
    double every = 0;

    if (pd_text_number(value, &every, NULL) != PD_NUMBER_GOOD || every < least_every ||
        every > most_every) {
        char shown[SHOWN_MOST];
        pd_text_show(shown, sizeof shown, value);
        return usage_wrong(&usage, "--every: got \"%s\", expected %g to %g seconds", shown,
                           least_every, most_every);
    }
    request->compare.day.trace_every = every;
    return PD_DONE;
}

static int set_folder(struct request *request, const char *value)
{
    if (value[0] == '\0') {
        return usage_wrong(&usage, "-o: the name of the folder is empty");
    }
    request->compare.folder = value;
    return PD_DONE;
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;

    switch (found) {
    case EVERY:
        return set_every(request, value);
    case OUT:
        return set_folder(request, value);
    case OPTION_WORD:
        return several_take(&usage, &request->several, value);
    default:
        return PD_BAD_USAGE;
    }
}

static int check_request(void *context)
{
    const struct request *request = context;

    return scenario_needed(&usage, request->several.count > 0 ? request->several.folder[0] : NULL);
}

static const struct line_reader line = {&usage, HELP, take, check_request};

/* A day that chattered ended early: its totals are no day's. */
static void print_endings(const char *of, const struct pd_comparison *comparison)
{
    for (size_t i = 0; i < comparison->count; i++) {
        const struct pd_day_result *day = &comparison->row[i].result;
        int minutes = (int)(day->end_time / 60);

        if (day->ending == PD_ENDING_CHATTER) {
            (void)printf("note: %s%s chatters, at %.0f starts an hour when it was broken off at "
                         "%02d:%02d; its "
                         "figures\n  hold up to there.\n",
                         of, day->strategy.kind->name, day->last_rate, minutes / 60, minutes % 60);
        }
    }
}

/* Where no water comes, a draw that ends by volume does not end. */
static void print_unfilled(const char *of, const struct pd_comparison *comparison)
{
    for (size_t i = 0; i < comparison->count; i++) {
        const struct pd_day_result *day = &comparison->row[i].result;

        if (day->draws_unfilled > 0 && day->delivered > 0) {
            (void)printf("note: %s%s left %d draw%s by volume unfilled: opened more than an hour "
                         "before the end\n  of the day and still open then.\n",
                         of, day->strategy.kind->name, day->draws_unfilled,
                         day->draws_unfilled > 1 ? "s" : "");
        }
    }
}

/* Under the pressure of the air a pipe from a public main may take in what lies around it. */
static void print_suction(const char *of, const struct pd_scenario *scenario,
                          const struct pd_comparison *comparison)
{
    bool main_supply = (enum pd_supply_kind)scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_MAIN;

    for (size_t i = 0; main_supply && i < comparison->count; i++) {
        const struct pd_day_result *day = &comparison->row[i].result;
        if (day->lowest_suction_pressure < 0) {
            (void)printf(
                "note: %s%s draws the pipe from the main below the pressure of the air;%ssee "
                "`pumpday check`.\n",
                of, day->strategy.kind->name, of[0] != '\0' ? "\n  " : " ");
        }
    }
}

/* A supply below the taps gives nothing by itself, and what waits for a flow waits for ever. */
static void print_waiting(const char *of, const struct pd_scenario *scenario,
                          const struct pd_comparison *comparison)
{
    for (size_t i = 0; i < comparison->count; i++) {
        const struct pd_day_result *day = &comparison->row[i].result;
        if (day->starts == 0 && day->run_time <= 0 && day->delivered <= 0 &&
            pd_scenario_asked(scenario) > 0) {
            (void)printf("note: %s%s cannot work here: no water comes without the pump, and only\n"
                         "  a flow%s would start it.\n",
                         of, day->strategy.kind->name,
                         isnan(day->strategy.start_flow) ? " that lets the pressure sag" : "");
        }
    }
}

/* of: whose day it is, where there are several: "weekday: " */
static void print_notes(const char *of, const struct pd_scenario *scenario,
                        const struct pd_comparison *comparison)
{
    print_endings(of, comparison);
    print_waiting(of, scenario, comparison);
    print_unfilled(of, comparison);
    print_suction(of, scenario, comparison);
}

static void print_cautions(void)
{
    (void)printf("caution: a simulation replaces neither measurement nor judgement. Set a tank's "
                 "precharge with\n"
                 "  the tank empty of water and the pump off; fit relief where pressure can exceed "
                 "ratings;\n"
                 "  local codes and licensed practice decide on electrical work, back-flow "
                 "protection and\n"
                 "  boosting from a public main.\n");
}

static void print_comparison(const struct pd_scenario *scenario, const struct request *request,
                             const struct pd_comparison *comparison)
{
    struct pd_report_day days[PD_STRATEGIES_MOST];
    enum pd_unit_system units = request->compare.units;

    for (size_t i = 0; i < comparison->count; i++) {
        days[i] = report_day_of(scenario, &comparison->limits, &comparison->row[i]);
    }
    day_title_print(scenario);
    (void)printf("\n");
    pd_table_write(stdout, days, comparison->count, units, colour_wanted());
    (void)printf("\n");
    print_notes("", scenario, comparison);
    pd_limits_write(stdout, "judged by", &comparison->limits, units);
    print_cautions();
}

static int run_one(const struct pd_scenario *scenario, const struct request *request,
                   struct progress *progress)
{
    struct pd_comparison comparison;
    struct pd_error error = {.code = PD_DONE};
    struct pd_compare_options compare = request->compare;

    compare.day.go_on = progress_go_on;
    compare.day.go_on_context = progress;
    if (!pd_compare(scenario, &compare, &comparison, &error)) {
        return error_tell(&error);
    }
    print_comparison(scenario, request, &comparison);
    pd_comparison_free(&comparison);
    return PD_DONE;
}

static void print_several(const struct request *request)
{
    const struct several *several = &request->several;
    char of[SHOWN_MOST];

    several_table_write(stdout, several->list, several->count, request->compare.units,
                        colour_wanted());
    (void)printf("\n");
    for (size_t i = 0; i < several->count; i++) {
        const struct pd_compared *compared = &several->list[i];
        pd_text_show(of, sizeof of - 2, compared->name);
        (void)strncat(of, ": ", 3);
        print_notes(of, compared->scenario, &compared->comparison);
    }
    (void)printf("note: each day is judged by its own scenario's limits, see `pumpday compare` of "
                 "it alone.\n");
    print_cautions();
}

static int run_several(struct request *request, struct progress *progress)
{
    struct several *several = &request->several;
    struct pd_error error = {.code = PD_DONE};
    struct pd_compare_options compare = request->compare;

    compare.day.go_on = progress_go_on;
    compare.day.go_on_context = progress;
    if (!pd_compare_several(several->list, several->count, &compare, &error)) {
        return error_tell(&error);
    }
    bool good =
        compare.folder == NULL ||
        several_files_write(compare.folder, several->list, several->count, compare.units, &error);
    if (good) {
        print_several(request);
    }
    for (size_t i = 0; i < several->count; i++) {
        pd_comparison_free(&several->list[i].comparison);
    }
    return good ? PD_DONE : error_tell(&error);
}

int cmd_compare(int argc, char **argv)
{
    static struct request request;
    struct common *common = &request.common;
    struct several *several = &request.several;
    struct progress progress = progress_begin();
    int code;

    request.compare = pd_compare_default();
    common->own_words = true;
    common->strategies = request.compare.strategies;
    common->strategy_count = &request.compare.strategy_count;
    common->units = &request.compare.units;
    if (!common_line_read(&line, argc, argv, common, &code)) {
        return code;
    }
    code = several_read(several, &common->sets, common->units_told ? NULL : common->units);
    if (code != PD_DONE) {
        return code;
    }
    code = several_is_one(several) ? run_one(several->list[0].scenario, &request, &progress)
                                   : run_several(&request, &progress);
    several_free(several);
    return code;
}
