/* `pumpday check`: an installation against codes, motor tables and the practice of the trade. */
#include "cli/commands.h"
#include "cli/interrupt.h"
#include "cli/steps.h"

#include "base/text.h"
#include "report/amount.h"
#include "report/findings_table.h"
#include "scenario/quantity.h"

#include <pumpday/check.h>

#include <math.h>
#include <string.h>

enum { SHOWN_MOST = 128 };

enum {
    STRATEGY,
    SET,
    UNITS,
    CSV,
    QUICK,
    SUPPLY,
    SHUTOFF,
    DUTY,
    TANK,
    DRAW,
    START,
    PRECHARGE,
    MOTOR,
    HELP,
    OPTION_COUNT
};

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = {"strategy", 0, "NAME",
                  "only this one; may be repeated (pressure-start, flow-start, peak-only)"},
    [SET] = {"set", 0, "ITEM=VALUE", "put a value in place of that of site.csv; may be repeated"},
    [UNITS] = {"units", 0, "si|us", "units of the table (as the scenario)"},
    [CSV] = {"csv", 0, NULL, "as CSV: strategy,what,found,unit,sense,limit,source,level,note"},
    [QUICK] = {"quick", 0, NULL, "no scenario: the options below tell what is known on site"},
    [SUPPLY] = {"supply", 0, "PRESSURE", "incoming pressure at the pump, gauge"},
    [SHUTOFF] = {"shutoff", 0, "HEAD", "head of the pump at no flow"},
    [DUTY] = {"duty", 0, "FLOW@HEAD", "one point of the pump's curve"},
    [TANK] = {"tank", 0, "VOLUME", "whole volume of the pressure tank"},
    [DRAW] = {"draw", 0, "FLOW", "a tap that stays open, its flow at the start pressure"},
    [START] = {"start", 0, "PRESSURE", "start pressure (12.5 psi under the boosted static one)"},
    [PRECHARGE] = {"precharge", 0, "PRESSURE", "precharge (2 psi under the start pressure)"},
    [MOTOR] = {"motor", 0, "POWER", "rated power of the motor (a small one is assumed)"},
    [HELP] = {"help", 'h', NULL, "this text"},
};

static const struct usage usage = {
    .command = "check",
    .words = "SCENARIO | --quick",
    .about =
        "Checks an installation before it is fitted: static pressure, reducing valve, supply and\n"
        "suction, suction head, starts, runs and rests, precharge, running dry, taps, duty point.\n"
        "Each line tells what was found, the limit, where the limit comes from, and ok, warn or\n"
        "fail; the exit code is 1 if one fails. The scenario's day is simulated under each\n"
        "strategy. With --quick the few things known on site do: supply, shutoff, duty, tank and\n"
        "draw must be told, each with its unit.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example =
        "  pumpday check scenarios/hillside-house --strategy pressure-start --units us\n"
        "  pumpday check --quick --supply \"40 psi\" --shutoff \"100 ft\" --duty \"10 gpm@80 ft\" "
        "\\\n"
        "      --tank \"6 gal\" --precharge \"66 psi\" --start \"70 psi\" --draw \"0.5 gpm\"\n",
};

/* What the command line asks for. */
struct request {
    const char *scenario;
    struct sets sets;
    enum pd_unit_system units;
    bool csv, is_quick;
    const char *told[OPTION_COUNT]; /* values of the options for --quick, as written */
    struct pd_check_options check;
    struct pd_quick quick;
    bool units_told;
};

static int take(void *context, int found, const char *value)
{
    struct request *request = context;
    switch (found) {
    case STRATEGY:
        return choose_strategy(&usage, request->check.strategies, &request->check.strategy_count,
                               value);
    case SET:
        return choose_set(&usage, &request->sets, value);
    case UNITS:
        return choose_units(&usage, &request->units, &request->units_told, value);
    case CSV:
        request->csv = true;
        return PD_DONE;
    case QUICK:
        request->is_quick = true;
        return PD_DONE;
    case OPTION_WORD:
        return choose_scenario(&usage, &request->scenario, value);
    case OPTION_WRONG:
        return PD_BAD_USAGE;
    default:
        request->told[found] = value;
        return PD_DONE;
    }
}

/* A quantity behind an option, with its unit; bounds keep slips of the pen out. */
static int read_quantity(int option, const char *text, struct pd_bounds bounds, double *si)
{
    struct pd_faults faults = {.count = 0};
    struct pd_place place = {.item = options[option].name, .faults = &faults};

    if (!pd_quantity_read(&place, &bounds, text, "", si)) {
        return usage_wrong(&usage, "--%s: %s", options[option].name, faults.list[0].text);
    }
    return PD_DONE;
}

/* An option for --quick that holds one quantity. */
struct known {
    int option;
    bool must;
    struct pd_bounds bounds;
    size_t offset; /* of its place in struct pd_quick */
};

static const struct known knowns[] = {
    {SUPPLY, true, {PD_KIND_PRESSURE, "bar", -0.9, 25}, offsetof(struct pd_quick, supply)},
    {SHUTOFF, true, {PD_KIND_HEAD, "m", 1, 400}, offsetof(struct pd_quick, shutoff)},
    {TANK, true, {PD_KIND_VOLUME, "L", 0.05, 20000}, offsetof(struct pd_quick, tank)},
    {DRAW, true, {PD_KIND_FLOW, "L/min", 0.01, 1e4}, offsetof(struct pd_quick, draw)},
    {START, false, {PD_KIND_PRESSURE, "bar", -0.9, 40}, offsetof(struct pd_quick, start)},
    {PRECHARGE, false, {PD_KIND_PRESSURE, "bar", 0, 40}, offsetof(struct pd_quick, precharge)},
    {MOTOR, false, {PD_KIND_POWER, "kW", 0.01, 500}, offsetof(struct pd_quick, motor_power)},
};

static double *place_of(struct pd_quick *quick, const struct known *known)
{
    return (double *)(void *)((char *)quick + known->offset);
}

/* "10 gpm@80 ft" */
static int read_duty(struct request *request, const char *text)
{
    char flow[SHOWN_MOST];
    const char *sign = strchr(text, '@');
    int code = PD_BAD_USAGE;

    if (sign == NULL || !pd_text_trim(flow, sizeof flow, text, (size_t)(sign - text))) {
        char shown[SHOWN_MOST];
        pd_text_show(shown, sizeof shown, text);
        return usage_wrong(&usage, "--duty: got \"%s\", expected FLOW@HEAD such as 10 gpm@80 ft",
                           shown);
    }
    code = read_quantity(DUTY, flow, (struct pd_bounds){PD_KIND_FLOW, "L/min", 0.1, 1e5},
                         &request->quick.duty_flow);
    if (code != PD_DONE) {
        return code;
    }
    return read_quantity(DUTY, sign + 1, (struct pd_bounds){PD_KIND_HEAD, "m", 0, 400},
                         &request->quick.duty_head);
}

static int read_quick(struct request *request)
{
    int code = PD_DONE;

    if (request->told[DUTY] == NULL) {
        return usage_wrong(&usage, "--quick needs --duty FLOW@HEAD");
    }
    for (size_t i = 0; code == PD_DONE && i < sizeof knowns / sizeof knowns[0]; i++) {
        const struct known *known = &knowns[i];
        const char *text = request->told[known->option];
        double *place = place_of(&request->quick, known);
        *place = NAN;
        if (text != NULL) {
            code = read_quantity(known->option, text, known->bounds, place);
        } else if (known->must) {
            code = usage_wrong(&usage, "--quick needs --%s %s", options[known->option].name,
                               options[known->option].value);
        }
    }
    return code == PD_DONE ? read_duty(request, request->told[DUTY]) : code;
}

/* What --quick takes and a scenario tells by itself, and the other way round. */
static int check_request(void *context)
{
    struct request *request = context;
    if (request->is_quick) {
        bool more = request->scenario != NULL || request->sets.count > 0 ||
                    request->check.strategy_count > 0;
        return more ? usage_wrong(&usage, "--quick goes without a scenario, --set and --strategy")
                    : read_quick(request);
    }
    for (int i = SUPPLY; i <= MOTOR; i++) {
        if (request->told[i] != NULL) {
            return usage_wrong(&usage, "--%s is for --quick", options[i].name);
        }
    }
    if (request->scenario == NULL) {
        return usage_wrong(&usage, "which scenario? its folder is missing");
    }
    return PD_DONE;
}

static const struct line_reader line = {&usage, HELP, take, check_request};

/* Prints the lines; returns the exit code. */
static int print_findings(const struct request *request, const struct pd_findings *findings)
{
    if (request->csv) {
        pd_findings_write_csv(stdout, findings, request->units);
    } else {
        pd_findings_write_table(stdout, findings, request->units, colour_wanted());
        (void)printf("\n%zu of %zu lines fail, %zu warn.\n"
                     "caution: a check replaces neither measurement nor local codes; electrical "
                     "work, connections\n  to a main and back-flow protection belong to licensed "
                     "trades.\n",
                     findings->fails, findings->count, findings->warnings);
    }
    return findings->fails > 0 ? PD_VERDICT_FAILS : PD_DONE;
}

static int run_scenario(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    struct pd_error error = {.code = PD_DONE};
    struct pd_findings findings;

    if (!pd_check(scenario, &request->check, &findings, &error)) {
        return error_tell(&error);
    }
    if (!request->csv) {
        title_print(scenario);
        (void)printf("\n");
    }
    return print_findings(request, &findings);
}

static void print_amount(const char *before, enum pd_kind kind, enum pd_unit_system units,
                         double si, const char *after)
{
    char text[PD_AMOUNT_MOST];

    pd_amount_text(text, kind, units, si);
    (void)printf("%s%s%s", before, text, after);
}

/* What was taken for granted, and the cycle in a sentence. */
static void print_cycle(const struct request *request, const struct pd_quick_cycle *cycle)
{
    enum pd_unit_system units = request->units;
    bool own_start = request->told[START] != NULL, own_gas = request->told[PRECHARGE] != NULL;

    (void)printf("assumed: a pump of head H = shutoff - k Q^2 that starts at a pressure and stops "
                 "7 s after the\n  flow falls under 0.8 US gpm; the gauge at the pump is the "
                 "taps'; a wide suction pipe; no leak;\n  a tank that stays at one temperature; "
                 "water of 15 degC; air as at the sea;\n");
    print_amount("  start at ", PD_KIND_PRESSURE, units, cycle->start_pressure,
                 own_start ? " as told;\n" : ", 12.5 psi under the boosted static pressure;\n");
    print_amount("  precharge ", PD_KIND_PRESSURE, units, cycle->precharge,
                 own_gas ? " as told.\n" : ", 2 psi under the start pressure.\n");
    if (isfinite(cycle->run_time) && !cycle->runs_on) {
        print_amount("the cycle: ", PD_KIND_TIME, units, cycle->run_time, " on, ");
        print_amount("", PD_KIND_TIME, units, cycle->rest_time, " off, ");
        print_amount("", PD_KIND_VOLUME, units, cycle->volume, " drawn.\n");
    }
    (void)printf("\n");
}

static int run_quick(const struct request *request)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_findings findings;
    struct pd_quick_cycle cycle;

    if (!pd_quick_check(&request->quick, &request->check.day, &findings, &cycle, &error)) {
        if (error.code == PD_BAD_USAGE) {
            return usage_wrong(&usage, "%s", error.text);
        }
        return error_tell(&error);
    }
    if (!request->csv) {
        print_cycle(request, &cycle);
    }
    return print_findings(request, &findings);
}

int cmd_check(int argc, char **argv)
{
    struct request request = {.check = pd_check_default()};
    int code;

    request.check.day.go_on = progress_go_on;
    if (!line_read(&line, argc, argv, &request, &code)) {
        return code;
    }
    interrupt_watch();
    return request.is_quick
               ? run_quick(&request)
               : scenario_run(request.scenario, &request.sets,
                              request.units_told ? NULL : &request.units, run_scenario, &request);
}
