/* `pumpday check`: an installation against codes, motor tables and the practice of the trade. */
#include "cli/commands.h"
#include "cli/interrupt.h"
#include "cli/steps.h"
#include "present/quick_print.h"

#include "base/text.h"
#include "present/findings_table.h"
#include "scenario/quantity.h"

#include <pumpday/quick.h>

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
    STOP,
    PRECHARGE,
    PIPE,
    MOTOR,
    PHASES,
    CODES,
    HELP,
    OPTION_COUNT
};

static const struct option options[OPTION_COUNT] = {
    [STRATEGY] = OPTION_STRATEGY,
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the table (as what is told)"),
    [CSV] = {"csv", 0, NULL, "as CSV: strategy,what,found,unit,sense,limit,source,level,note"},
    [QUICK] = {"quick", 0, NULL, "no scenario: the options below tell what is known on site"},
    [SUPPLY] = {"supply", 0, "PRESSURE", "incoming pressure at the pump, gauge"},
    [SHUTOFF] = {"shutoff", 0, "HEAD", "head of the pump at no flow"},
    [DUTY] = {"duty", 0, "FLOW@HEAD", "one point of the pump's curve"},
    [TANK] = {"tank", 0, "VOLUME", "whole volume of the pressure tank"},
    [DRAW] = {"draw", 0, "FLOW", "a tap that stays open, its flow at the start pressure"},
    [START] = {"start", 0, "PRESSURE", "start pressure (12.5 psi under the boosted static one)"},
    [STOP] = {"stop", 0, "PRESSURE", "stop pressure of a two-pressure switch (it stops by flow)"},
    [PRECHARGE] = {"precharge", 0, "PRESSURE", "precharge (2 psi under the start pressure)"},
    [PIPE] = {"pipe", 0, "BORE@LENGTH", "pipe from the main to the pump (a wide one)"},
    [MOTOR] = {"motor", 0, "POWER", "rated power of the motor (estimated from the curve)"},
    [PHASES] = {"phases", 0, "single|polyphase", "of the motor (the stricter limits of both)"},
    [CODES] = {"codes", 0, "us|european|none", "whose published limits hold (us)"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "check",
    .words = "SCENARIO | --quick",
    .about =
        "Checks an installation before it is fitted: static pressure, reducing valve, supply and\n"
        "suction, suction head, starts, runs and rests, precharge, running dry, taps, duty point.\n"
        "Each line tells what was found, the limit, where the limit comes from, and ok, warn or\n"
        "fail; the exit code is 1 if one fails. The scenario's day is simulated under each\n"
        "strategy. With --quick the few things known on site do: supply, shutoff, duty and tank\n"
        "must be told, each with its unit. It searches the draw at which the pump starts most\n"
        "often, and the smallest usual tank that passes there with its precharge right.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example =
        "  pumpday check scenarios/hillside-house --strategy pressure-start --units us\n"
        "  pumpday check --quick --supply \"40 psi\" --shutoff \"100 ft\" --duty \"10 gpm@80 ft\" "
        "\\\n"
        "      --tank \"20 gal\" --pipe \"1 in@30 ft\" --motor \"0.5 hp\" --phases single\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    enum pd_unit_system units;
    bool csv, is_quick;
    const char *told[OPTION_COUNT]; /* values of the options for --quick, as written */
    struct pd_check_options check;
    struct pd_quick quick;
    int leaning; /* of the units told with --quick, see struct pd_place */
};

static int take(void *context, int found, const char *value)
{
    struct request *request = context;
    switch (found) {
    case CSV:
        request->csv = true;
        return PD_DONE;
    case QUICK:
        request->is_quick = true;
        return PD_DONE;
    case OPTION_WRONG:
        return PD_BAD_USAGE;
    default:
        request->told[found] = value;
        return PD_DONE;
    }
}

/* A quantity behind an option, with its unit; bounds keep slips of the pen out. */
static int read_quantity(struct request *request, int option, const char *text,
                         struct pd_bounds bounds, double *si)
{
    struct pd_faults faults = {.count = 0};
    struct pd_place place = {
        .item = options[option].name, .faults = &faults, .leaning = &request->leaning};

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
    {DRAW, false, {PD_KIND_FLOW, "L/min", 0.01, 1e4}, offsetof(struct pd_quick, draw)},
    {START, false, {PD_KIND_PRESSURE, "bar", -0.9, 40}, offsetof(struct pd_quick, start)},
    {STOP, false, {PD_KIND_PRESSURE, "bar", -0.9, 60}, offsetof(struct pd_quick, stop)},
    {PRECHARGE, false, {PD_KIND_PRESSURE, "bar", 0, 40}, offsetof(struct pd_quick, precharge)},
    {MOTOR, false, {PD_KIND_POWER, "kW", 0.01, 500}, offsetof(struct pd_quick, motor_power)},
};

static double *place_of(struct pd_quick *quick, size_t offset)
{
    return (double *)(void *)((char *)quick + offset);
}

/* An option for --quick that holds two quantities, "10 gpm@80 ft". */
struct pair {
    int option;
    const char *example;
    struct pd_bounds bounds[2];
    size_t offset[2]; /* of their places in struct pd_quick */
};

static const struct pair duty = {
    .option = DUTY,
    .example = "FLOW@HEAD such as 10 gpm@80 ft",
    .bounds = {{PD_KIND_FLOW, "L/min", 0.1, 1e5}, {PD_KIND_HEAD, "m", 0, 400}},
    .offset = {offsetof(struct pd_quick, duty_flow), offsetof(struct pd_quick, duty_head)},
};

static const struct pair pipe = {
    .option = PIPE,
    .example = "BORE@LENGTH such as 25 mm@10 m",
    .bounds = {{PD_KIND_BORE, "mm", 6, 1000}, {PD_KIND_LENGTH, "m", 0.1, 5000}},
    .offset = {offsetof(struct pd_quick, pipe_bore), offsetof(struct pd_quick, pipe_length)},
};

static int read_pair(struct request *request, const struct pair *pair)
{
    const char *text = request->told[pair->option], *sign = strchr(text, '@');
    char first[SHOWN_MOST], shown[SHOWN_MOST];

    if (sign == NULL || !pd_text_trim(first, sizeof first, text, (size_t)(sign - text))) {
        pd_text_show(shown, sizeof shown, text);
        return usage_wrong(&usage, "--%s: got \"%s\", expected %s", options[pair->option].name,
                           shown, pair->example);
    }
    int code = read_quantity(request, pair->option, first, pair->bounds[0],
                             place_of(&request->quick, pair->offset[0]));
    return code == PD_DONE ? read_quantity(request, pair->option, sign + 1, pair->bounds[1],
                                           place_of(&request->quick, pair->offset[1]))
                           : code;
}

/* An option for --quick that holds one of some words; its value is the place of the word. */
struct choice {
    int option;
    const char *words[3];
    size_t offset; /* of its place in struct pd_quick */
};

static const struct choice choices[] = {
    {PHASES,
     {[PD_PHASES_SINGLE] = "single", [PD_PHASES_POLY] = "polyphase"},
     offsetof(struct pd_quick, phases)},
    {CODES,
     {[PD_CODES_US] = "us", [PD_CODES_EUROPEAN] = "european", [PD_CODES_NONE] = "none"},
     offsetof(struct pd_quick, codes)},
};

static int read_choice(struct request *request, const struct choice *choice)
{
    const char *text = request->told[choice->option];
    char shown[SHOWN_MOST];

    if (text == NULL) {
        return PD_DONE;
    }
    for (int i = 0; i < 3 && choice->words[i] != NULL; i++) {
        if (strcmp(text, choice->words[i]) == 0) {
            *place_of(&request->quick, choice->offset) = i;
            return PD_DONE;
        }
    }
    pd_text_show(shown, sizeof shown, text);
    return usage_wrong(&usage, "--%s: got \"%s\", expected %s", options[choice->option].name, shown,
                       options[choice->option].value);
}

static int read_known(struct request *request, const struct known *known)
{
    const char *text = request->told[known->option];

    if (text != NULL) {
        return read_quantity(request, known->option, text, known->bounds,
                             place_of(&request->quick, known->offset));
    }
    return known->must ? usage_wrong(&usage, "--quick needs --%s %s", options[known->option].name,
                                     options[known->option].value)
                       : PD_DONE;
}

static int read_quick(struct request *request)
{
    int code = PD_DONE;

    request->quick = pd_quick_default();
    if (request->told[DUTY] == NULL) {
        return usage_wrong(&usage, "--quick needs --duty FLOW@HEAD");
    }
    for (size_t i = 0; code == PD_DONE && i < sizeof knowns / sizeof knowns[0]; i++) {
        code = read_known(request, &knowns[i]);
    }
    if (code == PD_DONE) {
        code = read_pair(request, &duty);
    }
    if (code == PD_DONE && request->told[PIPE] != NULL) {
        code = read_pair(request, &pipe);
    }
    for (size_t i = 0; code == PD_DONE && i < sizeof choices / sizeof choices[0]; i++) {
        code = read_choice(request, &choices[i]);
    }
    return code;
}

/* What --quick takes and a scenario tells by itself, and the other way round. */
static int check_request(void *context)
{
    struct request *request = context;
    if (request->is_quick) {
        bool more = request->common.scenario != NULL || request->common.sets.count > 0 ||
                    request->check.strategy_count > 0;
        return more ? usage_wrong(&usage, "--quick goes without a scenario, --set and --strategy")
                    : read_quick(request);
    }
    for (int i = SUPPLY; i <= CODES; i++) {
        if (request->told[i] != NULL) {
            return usage_wrong(&usage, "--%s is for --quick", options[i].name);
        }
    }
    return scenario_needed(&usage, request->common.scenario);
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
        day_title_print(scenario);
        (void)printf("\n");
    }
    return print_findings(request, &findings);
}

static int run_quick(const struct request *request)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_findings findings;
    struct pd_quick_found found;

    if (!pd_quick_check(&request->quick, &request->check.day, &findings, &found, &error)) {
        if (error.code == PD_BAD_USAGE) {
            return usage_wrong(&usage, "%s", error.text);
        }
        return error_tell(&error);
    }
    if (!request->csv) {
        quick_print(&request->quick, &found);
    }
    return print_findings(request, &findings);
}

int cmd_check(int argc, char **argv)
{
    struct request request = {.check = pd_check_default()};
    int code;

    request.check.day.go_on = progress_go_on;
    request.common.strategies = request.check.strategies;
    request.common.strategy_count = &request.check.strategy_count;
    request.common.units = &request.units;
    if (!common_line_read(&line, argc, argv, &request.common, &code)) {
        return code;
    }
    interrupt_watch();
    if (request.is_quick && !request.common.units_told) {
        request.units = request.leaning > 0 ? PD_UNITS_US : PD_UNITS_SI;
    }
    request.quick.units = request.units;
    return request.is_quick ? run_quick(&request) : common_run(&request.common, run_scenario);
}
