/* Sweeps: the values they take, the order of their rows, what fails and what is gone on with. */
#include <pumpday/pumpday.h>

#include "day/count_memory.h"
#include "output/folder.h"
#include "output/text_file.h"
#include "physics/near.h"
#include "present/sweep_table.h"
#include "studies/fingerprint.h"

#include <CUnit/CUnit.h>
#include <stdlib.h>

void suite_sweep(void);

static char place[FOLDER_MOST], result[FOLDER_MOST], part[FOLDER_MOST], key[FOLDER_MOST];
static struct pd_scenario scenario;

/* The program's own template, with a short day: a sweep of it takes a moment. */
static void begin(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_faults *faults = calloc(1, sizeof *faults);
    char folder[FOLDER_MOST];

    CU_ASSERT_PTR_NOT_NULL_FATAL(faults);
    folder_make(place);
    (void)folder_path(place, "house", folder);
    CU_ASSERT_FATAL(
        pd_scenario_write_template(folder, &(struct pd_template){.units = PD_UNITS_SI}, &error));
    CU_ASSERT_FATAL(pd_scenario_read(folder, NULL, 0, &scenario, faults));
    folder_remove(folder);
    free(faults);
    scenario.draw_count = scenario.draw_count < 6 ? scenario.draw_count : 6;
    (void)folder_path(place, "sweep.csv", result);
    (void)folder_path(place, "sweep.csv.part", part);
    (void)folder_path(place, "sweep.csv.part.key", key);
}

static void end(void)
{
    pd_scenario_free(&scenario);
    folder_remove(place);
}

static void ranges_and_lists_are_read(void)
{
    static const struct {
        const char *text;
        size_t count, index;
        const char *value, *unit; /* "": none */
    } cases[] = {
        {"tank.volume=20:60:20L", 3, 2, "60", "L"},
        {"tank.volume=20:60:20 L", 3, 0, "20", "L"},
        {" tank.volume = 20 : 60 : 20 L ", 3, 1, "40", "L"},
        // the end is left out where no step meets it
        {"tank.volume=20:59:20L", 2, 1, "40", "L"},
        {"tank.volume=20:20:5gal", 1, 0, "20", "gal"},
        {"tank.precharge=5:3:-0.5bar", 5, 4, "3", "bar"},
        // steps that no binary number holds: ten tenths are one, three are 0.3, zero is zero
        {"house.loss=0:1:0.1bar", 11, 10, "1", "bar"},
        {"house.loss=0:1:0.1bar", 11, 3, "0.3", "bar"},
        {"house.elevation=-0.3:0.3:0.1m", 7, 3, "0", "m"},
        {"house.loss=0:0.7:0.1bar", 8, 7, "0.7", "bar"},
        {"site.altitude=0.003:3000:0.003m", 1000000, 999999, "3000", "m"},
        {"tank.exponent=1:1.4:0.1", 5, 4, "1.4", ""},
        {"tank.exponent=1,1.25", 2, 1, "1.25", ""},
        {"tank.volume=20,1e2, 7.50 L", 3, 1, "100", "L"},
        {"tank.volume=20,1e2, 7.50 L", 3, 2, "7.5", "L"},
        {"tank.volume=20l", 1, 0, "20", "L"},
        {"tank.gas=thermal,isothermal", 2, 1, "isothermal", ""},
        {"limit.starts_per_hour=10,15 1/h", 2, 1, "15", "1/h"},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct pd_varied varied;
        struct pd_error error = {.code = PD_DONE};
        char text[PD_VALUE_MOST] = "";
        CU_ASSERT(pd_varied_read(cases[i].text, &varied, &error) && same_text(error.text, ""));
        CU_ASSERT_EQUAL_FATAL(varied.count, cases[i].count);
        pd_varied_text(&varied, cases[i].index, text);
        CU_ASSERT(same_text(text, cases[i].value));
        CU_ASSERT(same_text(varied.unit != NULL ? varied.unit : "", cases[i].unit));
    }
}

static void wrong_values_are_told(void)
{
    static const char *const cases[][2] = {
        {"tank.volume", "expected ITEM="},
        {"tank.volum=1:2:1L", "perhaps tank.volume"},
        {"=1:2:1L", "unknown item"},
        {"title=a,b", "no item to vary"},
        {"tank.volume=", "missing"},
        {"tank.volume=1,,2L", "missing"},
        {"tank.volume=1:2:L", "not a number"},
        {"tank.volume=1:2L", "FROM:TO:STEP"},
        {"tank.volume=1:2:3:4L", "FROM:TO:STEP"},
        {"tank.volume=1:2:0L", "a step of nothing"},
        {"tank.volume=1:2:-1L", "away from the end"},
        {"tank.volume=2:1:1L", "away from the end"},
        {"tank.volume=1:2:1", "no unit"},
        {"tank.volume=1,2", "no unit"},
        {"tank.volume=1,2psi", "no such unit"},
        {"tank.volume=1L,2L", "not a number"},
        {"tank.volume=nan,2L", "not a number"},
        {"tank.volume=0:inf:1L", "not a number"},
        {"tank.volume=0:1e300:1e-300L", "at most 1000000"},
        {"site.altitude=0:3000:0.003m", "at most 1000000"},
        {"tank.exponent=1,1.2bar", "pure numbers"},
        {"tank.gas=isothermal,air", "none of the choices"},
        {"tank.gas=1:2:1", "none of the choices"},
        {"limit.starts_per_hour=10,15 1/day", "expected 1/h"},
        {"tank.volume=0000000000000000000000000000000000000000000000000000000000000000001L",
         "too long"},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct pd_varied varied;
        struct pd_error error = {.code = PD_DONE};
        CU_ASSERT_FALSE(pd_varied_read(cases[i][0], &varied, &error));
        CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
        if (strstr(error.text, cases[i][1]) == NULL) {
            (void)printf("\n      %s: \"%s\" lacks \"%s\" ", cases[i][0], error.text, cases[i][1]);
            CU_FAIL("message");
        }
    }
}

enum { VARIED_MOST = 3 };

/* A sweep of one or two items, as options. */
struct request {
    struct pd_varied varied[VARIED_MOST];
    struct pd_sweep_options options;
};

static void request_make(struct request *request, const char *first, const char *second)
{
    struct pd_error error = {.code = PD_DONE};

    *request = (struct request){.options = pd_sweep_default()};
    request->options.varied = request->varied;
    request->options.file = result;
    request->options.jobs = 1;
    request->options.strategies[0] = pd_strategies[0];
    request->options.strategies[1] = pd_strategies[2];
    request->options.strategy_count = 2;
    CU_ASSERT_FATAL(pd_varied_read(first, &request->varied[0], &error));
    request->options.varied_count = 1;
    if (second != NULL) {
        CU_ASSERT_FATAL(pd_varied_read(second, &request->varied[1], &error));
        request->options.varied_count = 2;
    }
}

static bool sweep(const struct request *request, struct pd_sweep_totals *totals)
{
    struct pd_error error = {.code = PD_DONE};

    if (pd_sweep(&scenario, &request->options, totals, &error)) {
        return true;
    }
    (void)printf("\n      %s: %s ", error.file, error.text);
    return false;
}

/* The n-th line of a text, from 0. */
static const char *line_of(const char *text, size_t n, char line[TEXT_MOST])
{
    for (size_t i = 0; i < n; i++) {
        text += strcspn(text, "\n");
        text += *text == '\n';
    }
    (void)snprintf(line, TEXT_MOST, "%.*s", (int)strcspn(text, "\n"), text);
    return line;
}

static bool starts_with(const char *text, const char *with)
{
    if (strncmp(text, with, strlen(with)) == 0) {
        return true;
    }
    (void)printf("\n      \"%s\" does not start with \"%s\" ", text, with);
    return false;
}

static void rows_stand_in_order(void)
{
    static const char *const begins[] = {
        "tank.volume [gal],tank.gas,strategy,starts,starts_in_worst_hour,run_time [h],energy [kWh]",
        "10,thermal,pressure-start,",
        "10,thermal,peak-only,",
        "10,isothermal,pressure-start,",
        "10,isothermal,peak-only,",
        "5,thermal,pressure-start,",
        "5,thermal,peak-only,",
        "5,isothermal,pressure-start,",
        "5,isothermal,peak-only,",
    };
    struct request request;
    struct pd_sweep_totals totals;
    char text[TEXT_MOST], line[TEXT_MOST];

    request_make(&request, "tank.volume=10:5:-5gal", "tank.gas=thermal,isothermal");
    CU_ASSERT_FATAL(sweep(&request, &totals));
    CU_ASSERT_EQUAL(totals.combinations, 4);
    CU_ASSERT_EQUAL(totals.done, 4);
    CU_ASSERT_EQUAL(totals.resumed, 0);
    CU_ASSERT_EQUAL(totals.strategies, 2);
    (void)file_text(result, text);
    for (size_t i = 0; i < COUNT(begins); i++) {
        CU_ASSERT(starts_with(line_of(text, i, line), begins[i]));
    }
    CU_ASSERT(same_text(line_of(text, COUNT(begins), line), ""));
    // the head ends with what a sweep adds; nothing but the file is left
    CU_ASSERT_PTR_NOT_NULL(
        strstr(text, ",verdict,reason,start_pressure [kPa],stop_pressure [kPa],precharge [kPa],"
                     "drawdown [L],starts_limit,run_limit [s],tap_limit [kPa],title\n"));
    CU_ASSERT_EQUAL(folder_count(place), 1);
}

/* The summary's columns of a row are those that a comparison with the same override writes. */
static void rows_hold_what_a_comparison_holds(void)
{
    struct request request;
    struct pd_sweep_totals totals;
    struct pd_comparison comparison;
    struct pd_compare_options options = pd_compare_default();
    struct pd_faults *faults = calloc(1, sizeof *faults);
    struct pd_error error = {.code = PD_DONE};
    char folder[FOLDER_MOST], path[FOLDER_MOST];
    char text[TEXT_MOST], line[TEXT_MOST], summary[TEXT_MOST], want[TEXT_MOST];

    request_make(&request, "tank.volume=60,9L", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    CU_ASSERT_FATAL(faults != NULL && pd_scenario_set(&scenario, "tank.volume=9 L", faults));
    free(faults);
    options.folder = folder_path(place, "compared", folder);
    options.strategies[0] = pd_strategies[2];
    options.strategy_count = 1;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &comparison, &error));
    pd_comparison_free(&comparison);
    (void)line_of(file_text(folder_path(folder, "summary.csv", path), text), 1, summary);
    folder_remove(folder);
    (void)snprintf(want, sizeof want, "9,%.1000s,,", summary);
    CU_ASSERT(starts_with(line_of(file_text(result, text), 4, line), want));
}

static void threads_change_no_byte(void)
{
    static const int jobs[] = {1, 2, 5};
    char first[TEXT_MOST], text[TEXT_MOST];

    for (size_t i = 0; i < COUNT(jobs); i++) {
        struct request request;
        struct pd_sweep_totals totals;
        request_make(&request, "tank.volume=2:14:3L", "tank.gas=thermal,isothermal");
        request.options.jobs = jobs[i];
        CU_ASSERT_FATAL(sweep(&request, &totals));
        (void)file_text(result, i == 0 ? first : text);
        CU_ASSERT(i == 0 || same_text(text, first));
    }
    CU_ASSERT(strlen(first) > 1000);
}

static void a_failed_combination_is_a_row(void)
{
    struct request request;
    struct pd_sweep_totals totals;
    char text[TEXT_MOST], line[TEXT_MOST];

    // no tank, and then one; a start pressure over the stop pressure is found by the check
    request_make(&request, "tank.volume=0,20L", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, text);
    CU_ASSERT(starts_with(line_of(text, 1, line), "0,pressure-start,,,,,,,,,,,,,,,,,\"tank.volume: "
                                                  "out of range, got \"\"0 L\"\", expected "));
    CU_ASSERT(
        starts_with(line_of(text, 2, line), "0,peak-only,,,,,,,,,,,,,,,,,\"tank.volume: out"));
    CU_ASSERT(starts_with(line_of(text, 3, line), "20,pressure-start,"));
    CU_ASSERT_PTR_NULL(strstr(line, "out of range"));
    request_make(&request, "pressure_start.stop_pressure=1,4bar", "pressure_start.start=2bar");
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, text);
    CU_ASSERT_PTR_NOT_NULL(strstr(line_of(text, 1, line), "pressure_start.stop_pressure: "));
    CU_ASSERT(starts_with(line_of(text, 3, line), "4,2,pressure-start,"));
    CU_ASSERT_PTR_NULL(strstr(line, "pressure_start.stop_pressure: "));
}

/* The field so many before the last; no text of these sweeps has a comma in it. */
static const char *field_before_last(const char *text, size_t n, int before, char line[TEXT_MOST])
{
    const char *at = line_of(text, n, line);

    for (; before > 0; before--) {
        *strrchr(line, ',') = '\0';
    }
    return strrchr(at, ',') + 1;
}

/* Isothermal gas, by hand from p V = const in absolute pressures (101.325 kPa at altitude 0): a
 * tank of 24 L between 200 and 350 kPa gauge gives 24 p_c (1/301.325 - 1/451.325) for a precharge
 * under the start pressure and 24 (1 - p_c / 451.325) above it. */
static void drawdown_is_by_the_gas_law(void)
{
    static const double precharges[] = {0, 100, 200, 300};
    struct request request;
    struct pd_sweep_totals totals;
    char text[TEXT_MOST], line[TEXT_MOST];

    scenario.value[PD_SITE_ALTITUDE] = 0;
    scenario.value[PD_TANK_VOLUME] = 0.024;
    scenario.value[PD_TANK_GAS] = PD_GAS_ISOTHERMAL;
    scenario.value[PD_PRESSURE_START_START] = 200e3;
    scenario.value[PD_PRESSURE_START_STOP_PRESSURE] = 350e3;
    request_make(&request, "tank.precharge=0:300:100kPa", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, text);
    for (size_t i = 0; i < COUNT(precharges); i++) {
        double gas = precharges[i] + 101.325;
        double want =
            24 * (precharges[i] < 200 ? gas * (1 / 301.325 - 1 / 451.325) : 1 - gas / 451.325);
        CU_ASSERT(within(strtod(field_before_last(text, 1 + 2 * i, 4, line), NULL), want, 1e-6));
        // the other strategy stops by flow: it has none
        CU_ASSERT(same_text(field_before_last(text, 2 + 2 * i, 4, line), ""));
    }
}

static void write_file(const char *path, const char *text, size_t length)
{
    FILE *stream = fopen(path, "w");

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    CU_ASSERT_EQUAL(fwrite(text, 1, length, stream), length);
    CU_ASSERT_EQUAL(fclose(stream), 0);
}

static bool refuse(void *context)
{
    (void)context;
    return false;
}

/* Leaves a part with nothing but its head, and its key. */
static void stop_at_once(struct request *request)
{
    struct pd_sweep_totals totals;
    struct pd_error error = {.code = PD_DONE};

    request->options.day.go_on = refuse;
    CU_ASSERT_FALSE(pd_sweep(&scenario, &request->options, &totals, &error));
    CU_ASSERT_EQUAL(error.code, PD_INTERRUPTED);
    request->options.day.go_on = NULL;
    CU_ASSERT_EQUAL(folder_count(place), 2);
}

/* Where the part is cut: within the head, behind it, within rows and between them, in the middle of
 * a combination and at its end.  Nothing is lost, repeated or different. */
static void a_cut_anywhere_is_gone_on_with(void)
{
    struct request request;
    struct pd_sweep_totals totals;
    static char whole[TEXT_MOST], text[TEXT_MOST], line[TEXT_MOST];
    size_t at[5] = {0}; /* behind the head and each row */

    request_make(&request, "tank.volume=20,0L", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, whole);
    for (size_t i = 0, sum = 0; i < COUNT(at); i++) {
        sum += strlen(line_of(whole, i, line)) + 1;
        at[i] = sum;
    }
    CU_ASSERT_EQUAL_FATAL(at[4], strlen(whole));
    const size_t cuts[] = {0,         1,         10,        at[0] - 1, at[0],     at[0] + 1,
                           at[0] + 9, at[1] - 1, at[1],     at[1] + 3, at[2] - 1, at[2],
                           at[2] + 1, at[3],     at[3] + 5, at[4] - 1, at[4]};
    for (size_t i = 0; i < COUNT(cuts); i++) {
        CU_ASSERT_EQUAL(remove(result), 0);
        request.options.resume = false;
        stop_at_once(&request);
        write_file(part, whole, cuts[i]);
        request.options.resume = true;
        CU_ASSERT(sweep(&request, &totals));
        CU_ASSERT(same_text(file_text(result, text), whole));
        CU_ASSERT_EQUAL(totals.resumed, cuts[i] < at[2] ? 0 : cuts[i] < at[4] ? 1 : 2);
        CU_ASSERT_EQUAL(folder_count(place), 1);
    }
}

/* Stopped now and then on the way, with threads, until it is done. */
struct patience {
    int left;
};

static bool lose_patience(void *context)
{
    struct patience *patience = context;

    return patience->left-- > 0;
}

static void stops_and_resumes_add_up(void)
{
    struct request request;
    struct pd_sweep_totals totals = {.done = 0};
    static char whole[TEXT_MOST], text[TEXT_MOST];
    bool done = false;

    request_make(&request, "tank.volume=5:30:5L", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, whole);
    CU_ASSERT_EQUAL(remove(result), 0);
    request.options.jobs = 2;
    request.options.resume = true;
    // each turn is more patient than the one before, so that it comes to an end
    for (int turn = 0; !done && turn < 200; turn++) {
        struct patience patience = {turn / 2};
        struct pd_error error = {.code = PD_DONE};
        size_t before = totals.done % 6;
        request.options.day.go_on = lose_patience;
        request.options.day.go_on_context = &patience;
        done = pd_sweep(&scenario, &request.options, &totals, &error);
        CU_ASSERT(turn == 0 || totals.resumed == before);
        CU_ASSERT(totals.done >= totals.resumed);
        // what is told as done is in the part
        CU_ASSERT(done || folder_count(place) == 2);
    }
    CU_ASSERT(done);
    CU_ASSERT(same_text(file_text(result, text), whole));
}

/* True if the sweep is refused with these words and the part stays what it was. */
static bool refused(const struct request *request, const char *words)
{
    struct pd_sweep_totals totals;
    struct pd_error error = {.code = PD_DONE};
    static char before[TEXT_MOST], after[TEXT_MOST];

    (void)file_text(part, before);
    bool good = pd_sweep(&scenario, &request->options, &totals, &error);
    (void)file_text(part, after);
    if (good || error.code != PD_OUTPUT_FAILED || strstr(error.text, words) == NULL) {
        (void)printf("\n      \"%s\" lacks \"%s\" ", error.text, words);
        return false;
    }
    return same_text(after, before);
}

static void a_foreign_part_is_refused(void)
{
    struct request request, other;
    static char whole[TEXT_MOST];
    struct pd_sweep_totals totals;

    request_make(&request, "tank.volume=20,0L", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, whole);
    CU_ASSERT_EQUAL(remove(result), 0);
    stop_at_once(&request);
    write_file(part, whole, strlen(whole) - 4);
    // not without the wish to go on
    CU_ASSERT(refused(&request, "--resume"));
    request.options.resume = true;
    // other items, values, units, strategies; more rows than the sweep has
    static const char *const others[] = {"tank.volume=21,0L",     "tank.volume=20,1L",
                                         "tank.volume=20,0gal",   "tank.volume=20L",
                                         "house.elevation=20,0m", "tank.volume=200,0L"};
    for (size_t i = 0; i < COUNT(others); i++) {
        request_make(&other, others[i], NULL);
        other.options.resume = true;
        CU_ASSERT(refused(&other, "cannot resume"));
    }
    request_make(&other, "tank.volume=20,0L", "tank.gas=thermal");
    other.options.resume = true;
    CU_ASSERT(refused(&other, "cannot resume"));
    other = request;
    other.options.varied = other.varied;
    other.options.units = PD_UNITS_US;
    CU_ASSERT(refused(&other, "cannot resume"));
    other.options.units = PD_UNITS_SI;
    other.options.strategies[1] = pd_strategies[1];
    CU_ASSERT(refused(&other, "cannot resume"));
    // another scenario
    scenario.value[PD_HOUSE_ELEVATION] += 0.5;
    CU_ASSERT(refused(&request, "another scenario"));
    scenario.value[PD_HOUSE_ELEVATION] -= 0.5;
    // and one of which nothing is known
    CU_ASSERT_EQUAL(remove(key), 0);
    CU_ASSERT(refused(&request, "cannot resume"));
}

static void options_have_limits(void)
{
    struct request request;
    struct pd_sweep_totals totals;
    struct pd_error error = {.code = PD_DONE};

    request_make(&request, "tank.volume=1:1001:1L", "house.elevation=0:10:0.01m");
    CU_ASSERT_FALSE(pd_sweep(&scenario, &request.options, &totals, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "1000000"));
    error.code = PD_DONE;
    request_make(&request, "tank.volume=1:3:1L", "tank.volume=5L");
    CU_ASSERT_FALSE(pd_sweep(&scenario, &request.options, &totals, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
    error.code = PD_DONE;
    request.options.varied_count = 0;
    CU_ASSERT_FALSE(pd_sweep(&scenario, &request.options, &totals, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
    // not a row for each of them, each with the same reason
    error.code = PD_DONE;
    request_make(&request, "tank.volume=1:3:1L", NULL);
    request.options.day.relative_tolerance = -1;
    CU_ASSERT_FALSE(pd_sweep(&scenario, &request.options, &totals, &error));
    CU_ASSERT_STRING_EQUAL(error.item, "relative_tolerance");
    CU_ASSERT_EQUAL(folder_count(place), 0);
}

/* From the first row on one call for memory fails: before, it might be one of SUNDIALS's own, which
 * does not outlive it. */
static void watch_from_first_row(void *context, size_t done, size_t total)
{
    const long *failing = context;

    (void)total;
    if (done == 1) {
        memory_watch_all(*failing);
    }
}

/* Whichever call finds no memory, a sweep ends with an error, or all rows stand: never a row
 * missing without a word.  There are more rows than a thread makes ahead of the one that takes
 * them, so that some are made after the first was taken. */
static void scarce_memory_is_told(void)
{
    enum { CALLS = 16 };
    static char whole[TEXT_MOST], text[TEXT_MOST];
    struct request request;
    struct pd_sweep_totals totals;
    long failing = 0, failures = 0;

    request_make(&request, "tank.volume=8:30:1L", NULL);
    request.options.strategies[0] = pd_strategies[2];
    request.options.strategy_count = 1;
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, whole);
    request.options.progress = watch_from_first_row;
    request.options.progress_context = &failing;
    for (failing = 1; failing <= CALLS; failing++) {
        struct pd_error error = {.code = PD_DONE};
        (void)remove(result);
        (void)remove(part);
        (void)remove(key);
        bool good = pd_sweep(&scenario, &request.options, &totals, &error);
        (void)memory_watched_all();
        failures += good ? 0 : 1;
        CU_ASSERT_EQUAL(good, error.code == PD_DONE);
        CU_ASSERT(!good || same_text(file_text(result, text), whole));
    }
    CU_ASSERT(failures > 0 || !COUNTS_MEMORY);
}

/* A part is cut where it is not whole, not where the memory for a line was missing. */
static void scarce_memory_cuts_no_part(void)
{
    static char whole[TEXT_MOST], text[TEXT_MOST];
    struct request request;
    struct pd_sweep_totals totals;
    bool ended = false;

    request_make(&request, "tank.volume=8,16,24L", NULL);
    CU_ASSERT_FATAL(sweep(&request, &totals));
    (void)file_text(result, whole);
    strstr(whole, "\n24,")[1] = '\0';
    (void)remove(result);
    stop_at_once(&request);
    request.options.resume = true;
    request.options.day.go_on = refuse;
    for (long failing = 1; !ended && COUNTS_MEMORY; failing++) {
        struct pd_error error = {.code = PD_DONE};
        write_file(part, whole, strlen(whole));
        memory_watch_all(failing);
        CU_ASSERT_FALSE(pd_sweep(&scenario, &request.options, &totals, &error));
        ended = memory_watched_all() < failing;
        CU_ASSERT(same_text(file_text(part, text), whole));
    }
}

/* The table of a sweep too long to be shown whole keeps copies of its best and worst rows. */
static void scarce_memory_changes_no_table(void)
{
    static char whole[TEXT_MOST], text[TEXT_MOST];
    struct request request;
    struct pd_sweep_totals totals;
    bool ended = false;

    request_make(&request, "tank.volume=8:50:1L", NULL);
    request.options.strategy_count = 1;
    CU_ASSERT_FATAL(sweep(&request, &totals));
    for (long failing = 0; !ended && failing < (COUNTS_MEMORY ? 500 : 1); failing++) {
        struct pd_error error = {.code = PD_DONE};
        FILE *stream = tmpfile();
        CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
        memory_watch(failing);
        bool good = pd_sweep_table_write(stream, result, 1, &error);
        ended = memory_watched().taken < failing;
        (void)stream_text(stream, failing == 0 ? whole : text);
        (void)fclose(stream);
        CU_ASSERT_EQUAL(good, error.code == PD_DONE);
        CU_ASSERT(!good || failing == 0 || same_text(text, whole));
    }
    CU_ASSERT(ended || !COUNTS_MEMORY);
}

static void places_that_cannot_be_written(void)
{
    char deep[FOLDER_MOST];
    struct request request;
    struct pd_sweep_totals totals;

    request_make(&request, "tank.volume=0L", NULL);
    request.options.file = place;
    CU_ASSERT(refused(&request, "not a plain file"));
    request.options.file = "/proc/nowhere/sweep.csv";
    CU_ASSERT(refused(&request, "cannot write"));
    request.options.file = "";
    CU_ASSERT(refused(&request, "name"));
    // folders of the path are made
    request.options.file = folder_path(place, "deep/sweep.csv", deep);
    CU_ASSERT(sweep(&request, &totals));
    folder_remove(folder_path(place, "deep", deep));
    CU_ASSERT_EQUAL(folder_count(place), 0);
}

/* All that a day depends on makes a difference, and its title none. */
static void fingerprints_tell_scenarios_apart(void)
{
    uint64_t before = scenario_fingerprint(&scenario);
    double *const parts[] = {&scenario.value[PD_TANK_VOLUME], &scenario.value[PD_DAY_WARM_UP],
                             &scenario.pump.flow[1],          &scenario.pump.head[0],
                             &scenario.pump.power[2],         &scenario.draws[0].time,
                             &scenario.draws[1].flow,         &scenario.draws[2].duration};

    for (size_t i = 0; i < COUNT(parts); i++) {
        double kept = *parts[i];
        *parts[i] = 0.123;
        CU_ASSERT_NOT_EQUAL(scenario_fingerprint(&scenario), before);
        *parts[i] = kept;
    }
    scenario.draw_count--;
    CU_ASSERT_NOT_EQUAL(scenario_fingerprint(&scenario), before);
    scenario.draw_count++;
    scenario.title[0] = 'X';
    CU_ASSERT_EQUAL(scenario_fingerprint(&scenario), before);
}

void suite_sweep(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("sweep", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, ranges_and_lists_are_read);
    CU_ADD_TEST(suite, wrong_values_are_told);
    CU_ADD_TEST(suite, rows_stand_in_order);
    CU_ADD_TEST(suite, rows_hold_what_a_comparison_holds);
    CU_ADD_TEST(suite, threads_change_no_byte);
    CU_ADD_TEST(suite, a_failed_combination_is_a_row);
    CU_ADD_TEST(suite, drawdown_is_by_the_gas_law);
    CU_ADD_TEST(suite, a_cut_anywhere_is_gone_on_with);
    CU_ADD_TEST(suite, stops_and_resumes_add_up);
    CU_ADD_TEST(suite, a_foreign_part_is_refused);
    CU_ADD_TEST(suite, options_have_limits);
    CU_ADD_TEST(suite, scarce_memory_is_told);
    CU_ADD_TEST(suite, scarce_memory_cuts_no_part);
    CU_ADD_TEST(suite, scarce_memory_changes_no_table);
    CU_ADD_TEST(suite, places_that_cannot_be_written);
    CU_ADD_TEST(suite, fingerprints_tell_scenarios_apart);
}
