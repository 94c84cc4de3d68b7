/* The four files of a comparison: their heads and a row of each. */
#include "output/results.h"

#include "output/folder.h"
#include "output/sample_day.h"
#include "output/text_file.h"

#include <CUnit/CUnit.h>

void suite_results(void);

static const struct pd_trace_row trace_row = {
    .time = 10,
    .header_pressure = 300e3,
    .supply_pressure = 200e3,
    .suction_pressure = 190e3,
    .tap_pressure = 250e3,
    .pump_flow = 1e-3,
    .demand_flow = 5e-4,
    .tank_water = 2e-3,
    .speed = 0.5,
    .power = 400,
    .pump_on = true,
    .valve_open = false,
};

/* Writes all the files of the sample day into a new folder. */
static void write_files(char folder[FOLDER_MOST], enum pd_unit_system units)
{
    struct pd_results results;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_result result = sample_result();
    // money per J: 0.36 per kWh
    struct pd_report_day day =
        pd_report_day_for(&result, result.energy * 1e-7, 100e3, false, "low taps");

    folder_make(folder);
    CU_ASSERT_FATAL(pd_results_open(&results, folder, units, &error));
    struct pd_report_settings settings = {result.strategy,         100e3, 551e3, 15, 0.75,
                                          "a \"good\" house, no 7"};
    CU_ASSERT(pd_results_trace(&results, day.strategy, &trace_row));
    CU_ASSERT(pd_results_zoom(&results, day.strategy, &trace_row));
    pd_results_day(&results, &day);
    pd_results_settings(&results, &settings);
    settings.strategy.stop_pressure = 480e3;
    pd_results_settings(&results, &settings);
    CU_ASSERT(pd_results_commit(&results, &error));
    CU_ASSERT_EQUAL(folder_count(folder), 6);
}

static bool holds(const char *folder, const char *name, const char *want)
{
    char path[FOLDER_MOST], text[TEXT_MOST];

    return same_text(file_text(folder_path(folder, name, path), text), want);
}

/* 3.6 MJ = 1 kWh, over 0.5 m3 = 2 kWh/m3; 42.25 s = 0.0117361111 h. */
static void summary_has_a_row_a_strategy(void)
{
    char folder[FOLDER_MOST];

    write_files(folder, PD_UNITS_SI);
    CU_ASSERT(holds(folder, "summary.csv",
                    "strategy,starts,starts_in_worst_hour,run_time [h],energy [kWh],cost,"
                    "volume [L],specific_energy [kWh/m3],shortest_run [s],shortest_rest [s],"
                    "lowest_tap_pressure [kPa],time_below_tap_limit [s],"
                    "highest_header_pressure [kPa],balance_error [L],run_off_curve [%],"
                    "water_off_curve [%],verdict\n"
                    "pressure-start,1,1,0.0117361111,1,0.36,500,2,12.25,3570.5,125,3,412,-2e-06,0,,"
                    "low taps\n"));
    folder_remove(folder);
}

/* Hours without a draw have no tap pressure. */
static void hours_has_a_row_an_hour(void)
{
    char folder[FOLDER_MOST], path[FOLDER_MOST], text[TEXT_MOST];

    write_files(folder, PD_UNITS_SI);
    (void)file_text(folder_path(folder, "hours.csv", path), text);
    CU_ASSERT_EQUAL(strncmp(text,
                            "strategy,hour,starts,run_time [s],energy [kWh],volume [L],"
                            "lowest_tap_pressure [kPa]\n"
                            "pressure-start,0,0,0,0,0,\n"
                            "pressure-start,1,1,12.25,0.001,100,125\n"
                            "pressure-start,2,0,0,0,0,\n",
                            170),
                    0);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\npressure-start,23,0,0,0,0,\n"));
    CU_ASSERT_PTR_NULL(strstr(text, "\npressure-start,24,"));
    folder_remove(folder);
}

static void cycles_has_a_row_a_run(void)
{
    char folder[FOLDER_MOST], want[TEXT_MOST];

    write_files(folder, PD_UNITS_SI);
    (void)snprintf(
        want, sizeof want,
        "strategy,start [s],run_time [s],rest_before [s],volume [L],energy [kWh],"
        "start_cause,stop_cause\n"
        "pressure-start,0,30,,20,0.002,%s,%s\npressure-start,3600.5,12.25,3570.5,4,0.001,%s,%s\n",
        pd_cause_name(PD_CAUSE_CARRIED_OVER), pd_cause_name(PD_CAUSE_LOW_FLOW),
        pd_cause_name(PD_CAUSE_PRESSURE), pd_cause_name(PD_CAUSE_STOP_PRESSURE));
    CU_ASSERT(holds(folder, "cycles.csv", want));
    folder_remove(folder);
}

/* 1e-3 m3/s = 60 L/min. */
static void trace_has_its_rows(void)
{
    char folder[FOLDER_MOST];

    write_files(folder, PD_UNITS_SI);
    CU_ASSERT(holds(folder, "trace.csv",
                    "strategy,time [s],header_pressure [kPa],supply_pressure [kPa],"
                    "suction_pressure [kPa],tap_pressure [kPa],pump_flow [L/min],"
                    "demand_flow [L/min],tank_water [L],speed,power [W],pump,check_valve\n"
                    "pressure-start,10,300,200,190,250,60,30,2,0.5,400,1,0\n"));
    folder_remove(folder);
}

/* A row of a run-down: 1 ms, 1 Pa, 0.0001 L/min are enough. */
static void noise_is_cut_off(void)
{
    char folder[FOLDER_MOST], path[FOLDER_MOST], text[TEXT_MOST];
    struct pd_results results;
    struct pd_error error = {.code = PD_DONE};
    const struct pd_trace_row row = {
        .time = 86399.12349,
        .header_pressure = 312345.678,
        .supply_pressure = 200e3,
        .suction_pressure = -0.2,
        .tap_pressure = (double)NAN,
        .pump_flow = 1.0000001e-3,
        .tank_water = 2.000000019e-3,
        .speed = 3.2e-7,
        .power = 2.999999999,
    };

    folder_make(folder);
    CU_ASSERT_FATAL(pd_results_open(&results, folder, PD_UNITS_SI, &error));
    CU_ASSERT(pd_results_trace(&results, "flow-start", &row));
    CU_ASSERT(pd_results_commit(&results, &error));
    (void)file_text(folder_path(folder, "trace.csv", path), text);
    CU_ASSERT(
        same_text(strchr(text, '\n'), "\nflow-start,86399.123,312.346,200,0,,60,0,2,0,3,0,0\n"));
    folder_remove(folder);
}

/* 5e-5 m3/s = 3 L/min; a switch that stops at 480 kPa has neither stop flow nor run-on. */
static void settings_have_the_title_last(void)
{
    char folder[FOLDER_MOST];

    write_files(folder, PD_UNITS_SI);
    CU_ASSERT(
        holds(folder, "settings.csv",
              "strategy,start_pressure [kPa],start_flow [L/min],stop_flow [L/min],"
              "stop_pressure [kPa],run_on [s],precharge [kPa],tap_limit [kPa],"
              "static_limit [kPa],starts_limit,water_asked [L],title\n"
              "pressure-start,300,,3,,7,280,100,551,15,750,\"a \"\"good\"\" house, no 7\"\n"
              "pressure-start,300,,,480,,280,100,551,15,750,\"a \"\"good\"\" house, no 7\"\n"));
    folder_remove(folder);
}

static void zoom_has_the_columns_of_the_trace(void)
{
    char folder[FOLDER_MOST], path[FOLDER_MOST], trace[TEXT_MOST], zoom[TEXT_MOST];

    write_files(folder, PD_UNITS_SI);
    (void)file_text(folder_path(folder, "trace.csv", path), trace);
    CU_ASSERT(same_text(file_text(folder_path(folder, "zoom.csv", path), zoom), trace));
    folder_remove(folder);
}

/* By definition 1 gal = 3.785411784 L and 1 psi = 6.894757 kPa (NIST SP 811, appendix B):
 * 500 L = 132.086026 gal, 412 kPa = 59.7555479 psi, 125 kPa = 18.1297172 psi; 2 kWh/m3 =
 * 7.57082357 kWh per 1000 gal. */
static void us_units_reach_heads_and_values(void)
{
    char folder[FOLDER_MOST], path[FOLDER_MOST], text[TEXT_MOST];

    write_files(folder, PD_UNITS_US);
    (void)file_text(folder_path(folder, "summary.csv", path), text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "volume [gal],specific_energy [kWh/kgal]"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, ",132.086026,7.57082357,"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, ",18.1297172,3,59.7555479,"));
    CU_ASSERT_PTR_NULL(strstr(text, "kPa"));
    (void)file_text(folder_path(folder, "trace.csv", path), text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "pump_flow [gpm],demand_flow [gpm],tank_water [gal]"));
    folder_remove(folder);
}

/* True if a system shows some kind in this unit; a day's run time is told in hours. */
static bool is_shown_unit(const char *unit, enum pd_unit_system units)
{
    bool found = strcmp(unit, "h") == 0;

    for (int kind = 0; kind < PD_KIND_COUNT; kind++) {
        found = found || strcmp(unit, pd_unit_shown((enum pd_kind)kind, units)) == 0;
    }
    return found;
}

/* A volume is not in L here and in m3 there. */
static void one_unit_a_quantity(void)
{
    static const char *const names[] = {"summary.csv", "hours.csv",    "cycles.csv",
                                        "trace.csv",   "settings.csv", "zoom.csv"};
    char folder[FOLDER_MOST], path[FOLDER_MOST], text[TEXT_MOST], unit[16];

    for (int units = PD_UNITS_SI; units <= PD_UNITS_US; units++) {
        write_files(folder, (enum pd_unit_system)units);
        for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
            (void)file_text(folder_path(folder, names[i], path), text);
            text[strcspn(text, "\n")] = '\0';
            for (const char *at = strchr(text, '['); at != NULL; at = strchr(at + 1, '[')) {
                (void)snprintf(unit, sizeof unit, "%.*s", (int)strcspn(at + 1, "]"), at + 1);
                CU_ASSERT(is_shown_unit(unit, (enum pd_unit_system)units));
            }
        }
        folder_remove(folder);
    }
}

/* Nothing delivered: no energy per volume, and no infinite one. */
static void without_water_there_is_no_specific_energy(void)
{
    struct pd_day_result result = sample_result();

    result.delivered = 0;
    struct pd_report_day day = pd_report_day_for(&result, result.energy * 1e-7, 100e3, true, "ok");
    CU_ASSERT(isnan(day.specific_energy));
    CU_ASSERT_DOUBLE_EQUAL(day.cost, 0.36, 1e-12);
}

void suite_results(void)
{
    CU_pSuite suite = CU_add_suite("results", NULL, NULL);

    CU_ADD_TEST(suite, summary_has_a_row_a_strategy);
    CU_ADD_TEST(suite, hours_has_a_row_an_hour);
    CU_ADD_TEST(suite, cycles_has_a_row_a_run);
    CU_ADD_TEST(suite, trace_has_its_rows);
    CU_ADD_TEST(suite, noise_is_cut_off);
    CU_ADD_TEST(suite, settings_have_the_title_last);
    CU_ADD_TEST(suite, zoom_has_the_columns_of_the_trace);
    CU_ADD_TEST(suite, us_units_reach_heads_and_values);
    CU_ADD_TEST(suite, one_unit_a_quantity);
    CU_ADD_TEST(suite, without_water_there_is_no_specific_energy);
}
