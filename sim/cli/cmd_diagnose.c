/* `pumpday diagnose`: the likely fault from what is seen on site. */
#include "cli/commands.h"
#include "cli/steps.h"

#include "base/text.h"
#include "present/diagnose_table.h"
#include "present/symptoms.h"
#include "scenario/quantity.h"

#include <pumpday/diagnose.h>

#include <math.h>
#include <string.h>

enum { SHOWN_MOST = 128 };

enum { SEEN, SYMPTOM, LOG, STRATEGY, SET, UNITS, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [SEEN] = {"seen", 0, "KEY=VALUE", "what was read on site, with its unit; may be repeated"},
    [SYMPTOM] = {"symptom", 0, "WORDS",
                 "what is wrong in plain words: what it may be and what to read; no SCENARIO"},
    [LOG] = {"log", 0, "FILE.csv",
             "a gauge logged with all taps shut: fits precharge, leak, start"},
    [STRATEGY] = {"strategy", 0, "NAME", "one of " STRATEGIES_MARK " (the first)"},
    [SET] = OPTION_SET,
    [UNITS] = OPTION_UNITS("units of the tables (as the scenario)"),
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "diagnose",
    .words = "SCENARIO",
    .about =
        "Ranks the likely faults by what is seen on site. Each suspect (leak, check valve,\n"
        "precharge low or high, start setting, tank) is simulated alone, and a leak or a check\n"
        "valve with a wrong precharge too, the sizes fitted to the readings. The scenario is the\n"
        "installation as designed; its daily draws do not count.\n"
        "Keys of --seen, of which some will do:\n\n"
        "  precharge=PRESSURE     on the tank's air valve, pump off, water side drained to zero: "
        "the\n"
        "                         first to read\n"
        "  between_starts=TIME    from start to start with all taps shut; never: not in 4 hours\n"
        "  on=TIME, off=TIME      a run, a rest while a tap gives draw; never: it does not come\n"
        "                         on, it does not go off\n"
        "  draw=FLOW              of that tap, at demand.reference_pressure\n"
        "  drawn=VOLUME           into a bucket, from a tap opened 3 minutes after the pump "
        "stopped\n"
        "                         until it starts: the bucket of the commissioning sheet\n"
        "  start_gauge=PRESSURE   as the pump starts\n"
        "  stop_gauge=PRESSURE    as it stops, all taps shut\n"
        "  stops=yes|no           all taps shut; yes: it stops by itself; no: it runs on\n"
        "  falls=yes|no           pump switched off, all taps shut; yes: the gauge falls to the\n"
        "                         supply's in an hour; no: it stands\n"
        "  falls_isolated=yes|no  the same with the stop valve to the house shut too; yes: it\n"
        "                         falls all the same (not the house); no: it stands (not the\n"
        "                         check valve)\n"
        "  supply=PRESSURE        incoming, then (the day's mean)\n\n"
        "A log has the columns time [s] or as HH:MM:SS, pressure [bar] and, if logged,\n"
        "power [W]; two starts of the pump at least, best a row a second. Rows too far apart to\n"
        "follow a run are read by the times and gauges of starts and stops, and the answer says\n"
        "what they do not show; where the gauge falls within five rows they are refused. With a\n"
        "log go supply, a precharge that was gauged (it is held, not fitted) and\n"
        "falls_isolated (which tells whether the house or the check valve loses the water).\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday diagnose scenarios/hillside-house --units us \\\n"
               "      --seen \"between_starts=200 s\" --seen falls_isolated=no --seen "
               "\"start_gauge=47 psi\"\n"
               "  pumpday diagnose scenarios/hillside-house --log gauge.csv\n"
               "  pumpday diagnose --symptom \"pump starts every few minutes at night\"\n",
};

/* What the command line asks for. */
struct request {
    struct common common;
    const char *log, *symptom;
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;
    enum pd_unit_system units;
    struct pd_seen seen;
    size_t readings, beside_log; /* all, and those that a log takes */
};

/* Bounds keep slips of the pen out. */
static struct pd_bounds bounds_of(enum pd_kind kind)
{
    switch ((int)kind) {
    case PD_KIND_TIME:
        return (struct pd_bounds){kind, "s", 0.1, 86400};
    case PD_KIND_VOLUME:
        return (struct pd_bounds){kind, "L", 0, 5000};
    case PD_KIND_FLOW:
        return (struct pd_bounds){kind, "L/min", 0.01, 1e4};
    default:
        return (struct pd_bounds){PD_KIND_PRESSURE, "bar", -0.9, 40};
    }
}

static int read_choice(const char *key, const char *value, double *si)
{
    char shown[SHOWN_MOST];

    if (pd_text_same(value, "yes") || pd_text_same(value, "no")) {
        *si = pd_text_same(value, "yes") ? 1 : 0;
        return PD_DONE;
    }
    pd_text_show(shown, sizeof shown, value);
    return usage_wrong(&usage, "--seen %s: got \"%s\", expected yes or no", key, shown);
}

static int read_value(const char *key, enum pd_kind kind, const char *value, double *si)
{
    struct pd_faults faults = {.count = 0};
    struct pd_place place = {.item = key, .faults = &faults};
    struct pd_bounds bounds = bounds_of(kind);

    if (kind == PD_KIND_CHOICE) {
        return read_choice(key, value, si);
    }
    if (!pd_quantity_read(&place, &bounds, value, "", si)) {
        return usage_wrong(&usage, "--seen %s: %s", key, faults.list[0].text);
    }
    return PD_DONE;
}

/* `never` instead of a time: between starts as long as it was waited for; a run or a rest that does
 * not come has no length. */
static bool take_never(enum pd_sign sign, const char *value, double *si)
{
    if (pd_signs[sign].kind != PD_KIND_TIME || !pd_text_same(value, "never")) {
        return false;
    }
    *si = sign == PD_SIGN_BETWEEN_STARTS ? PD_SIGN_NEVER : 0;
    return true;
}

/* Finds the place of a key's value; NULL if there is no such key. */
static double *find_key(struct pd_seen *seen, const char *key, enum pd_kind *kind,
                        enum pd_sign *sign)
{
    *sign = PD_SIGN_COUNT;
    *kind = PD_KIND_FLOW;
    if (pd_text_same(key, "draw")) {
        return &seen->draw;
    }
    *kind = PD_KIND_PRESSURE;
    if (pd_text_same(key, "supply")) {
        return &seen->supply;
    }
    for (int i = 0; i < PD_SIGN_COUNT; i++) {
        if (pd_text_same(key, pd_signs[i].name)) {
            *sign = (enum pd_sign)i;
            *kind = pd_signs[i].kind;
            return &seen->sign[i];
        }
    }
    return NULL;
}

/* One `KEY=VALUE`. */
static int take_seen(struct request *request, const char *text)
{
    char key[SHOWN_MOST], value[SHOWN_MOST], shown[SHOWN_MOST];
    const char *equals = strchr(text, '=');
    enum pd_kind kind;
    enum pd_sign sign;

    pd_text_show(shown, sizeof shown, text);
    if (equals == NULL || !pd_text_trim(key, sizeof key, text, (size_t)(equals - text)) ||
        !pd_text_trim(value, sizeof value, equals + 1, strlen(equals + 1))) {
        return usage_wrong(&usage,
                           "--seen: got \"%s\", expected KEY=VALUE such as "
                           "between_starts=200 s",
                           shown);
    }
    double *place = find_key(&request->seen, key, &kind, &sign);
    if (place == NULL) {
        return usage_wrong(
            &usage,
            "--seen: unknown key in \"%s\", expected precharge, between_starts, on, "
            "off, draw, drawn, start_gauge, stop_gauge, stops, falls, falls_isolated or supply",
            shown);
    }
    if (!isnan(*place)) {
        return usage_wrong(&usage, "--seen: %s is told twice", key);
    }
    request->readings += sign != PD_SIGN_COUNT;
    request->beside_log += sign == PD_SIGN_PRECHARGE || sign == PD_SIGN_FALLS_ISOLATED;
    if (sign != PD_SIGN_COUNT && take_never(sign, value, place)) {
        return PD_DONE;
    }
    int code = read_value(key, kind, value, place);
    if (code == PD_DONE && sign == PD_SIGN_BETWEEN_STARTS) {
        *place = fmin(*place, PD_SIGN_NEVER);
    }
    return code;
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;
    switch (found) {
    case SEEN:
        return take_seen(request, value);
    case SYMPTOM:
        request->symptom = value;
        return PD_DONE;
    case LOG:
        if (request->log != NULL) {
            return usage_wrong(&usage, "one --log at a time");
        }
        request->log = value;
        return PD_DONE;
    default:
        return PD_BAD_USAGE;
    }
}

static int check_request(void *context)
{
    struct request *request = context;
    const struct pd_seen *seen = &request->seen;
    bool steady = !isnan(seen->sign[PD_SIGN_ON]) || !isnan(seen->sign[PD_SIGN_OFF]);

    if (request->symptom != NULL) {
        return PD_DONE;
    }
    if (request->common.scenario == NULL) {
        return scenario_needed(&usage, NULL);
    }
    if (request->strategy_count > 1) {
        return usage_wrong(&usage, "one --strategy at a time");
    }
    if (request->strategy_count == 0) {
        request->strategies[0] = pd_strategies[0];
    }
    if (request->log != NULL && (request->beside_log < request->readings || !isnan(seen->draw))) {
        return usage_wrong(&usage, "--log takes no --seen but supply, precharge and "
                                   "falls_isolated");
    }
    if (request->log == NULL && request->readings == 0) {
        return usage_wrong(&usage, "what was seen? one --seen KEY=VALUE at least, or a --log");
    }
    if (seen->sign[PD_SIGN_FALLS] <= 0 && seen->sign[PD_SIGN_FALLS_ISOLATED] > 0) {
        return usage_wrong(&usage,
                           "--seen falls=no and falls_isolated=yes contradict each other: a "
                           "gauge that stands with the house open stands with it shut");
    }
    if (steady && isnan(seen->draw)) {
        return usage_wrong(&usage, "--seen on and off go with --seen draw=FLOW");
    }
    return PD_DONE;
}

static const struct line_reader line = {&usage, HELP, take, check_request};

static int tell_error(const struct pd_error *error)
{
    return error->code == PD_BAD_USAGE ? usage_wrong(&usage, "%s", error->text) : error_tell(error);
}

static int run_seen(const struct pd_scenario *scenario, const struct request *request,
                    const struct pd_day_options *day)
{
    struct pd_diagnosis diagnosis;
    struct pd_error error = {.code = PD_DONE};

    if (!pd_diagnose(scenario, request->strategies[0], &request->seen, day, &diagnosis, &error)) {
        return tell_error(&error);
    }
    title_print(scenario);
    pd_diagnosis_write(stdout, &diagnosis, &request->seen, request->units);
    (void)printf("caution: isolate before opening anything; electrical work belongs to licensed "
                 "trades.\n");
    return PD_DONE;
}

static int run_log(const struct pd_scenario *scenario, const struct request *request,
                   const struct pd_day_options *day)
{
    struct pd_log log;
    struct pd_log_fit fit;
    struct pd_faults faults = {.count = 0};
    struct pd_error error = {.code = PD_DONE};

    if (!pd_log_read(request->log, &log, &faults)) {
        pd_faults_print(stderr, &faults);
        return PD_BAD_INPUT;
    }
    bool good =
        pd_log_fit(scenario, request->strategies[0], &log, &request->seen, day, &fit, &error);
    pd_log_free(&log);
    if (!good) {
        return tell_error(&error);
    }
    title_print(scenario);
    pd_log_fit_write(stdout, &fit, request->units);
    return PD_DONE;
}

static int run(const struct pd_scenario *scenario, const void *context)
{
    const struct request *request = context;
    struct progress progress = progress_begin();
    struct pd_day_options day = pd_day_default();

    day.go_on = progress_go_on;
    day.go_on_context = &progress;
    return request->log != NULL ? run_log(scenario, request, &day)
                                : run_seen(scenario, request, &day);
}

/* No scenario is needed to say where to begin. */
static int tell_symptom(const char *words)
{
    char shown[SHOWN_MOST];

    if (symptom_write(stdout, words)) {
        return PD_DONE;
    }
    pd_text_show(shown, sizeof shown, words);
    return usage_wrong(&usage,
                       "--symptom: got \"%s\", expected words such as \"starts every few "
                       "minutes\", \"shower pulses\", \"runs and never stops\", \"does not "
                       "start\" or \"weak pressure\"",
                       shown);
}

int cmd_diagnose(int argc, char **argv)
{
    struct request request = {.units = PD_UNITS_SI, .seen = pd_seen_nothing()};
    int code;

    request.common.strategies = request.strategies;
    request.common.strategy_count = &request.strategy_count;
    request.common.units = &request.units;
    if (!common_line_read(&line, argc, argv, &request.common, &code)) {
        return code;
    }
    if (request.symptom != NULL) {
        return tell_symptom(request.symptom);
    }
    return common_run(&request.common, run);
}
