/* The commissioning sheet: readings by closed forms, and a layout that keeps text text. */
#include "present/sheet_scene.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_sheet(void);

/* The bucket holds what Boyle's tank gives from the gauge at rest down to the start pressure:
 * V p_c (1/p_start - 1/p_rest), absolute; the pipes add some grams of water. */
static void bucket_by_boyle(void)
{
    const double air = 101325;
    const char *sets[] = {"tank.gas=isothermal"};

    sheet_scene_make(sets, 1, "pressure-start");
    CU_ASSERT_EQUAL_FATAL(sheet.count, 1);
    const struct pd_bench *bench = &sheet.bench[0];
    double charge = (sheet.strategy.precharge + air) * 0.024;
    double given = charge / (sheet.strategy.start_pressure + air) - charge / (bench->rest + air);
    CU_ASSERT(near(bench->drawn, given, 0.02));
    CU_ASSERT(near(bench->start, sheet.strategy.start_pressure, 1e-6));
    // the tap gives its flow at the reference pressure of 3 bar by the root law, 3 m higher up
    double middle = (bench->rest + bench->start) / 2 - 999.1 * 9.80665 * 3;
    CU_ASSERT(near(bench->seconds, given / (sheet.tap_flow * sqrt(middle / 3e5)), 0.03));
    sheet_scene_end();
}

/* 2 bar from the main and 38 m of water of 15 degC (999.1 kg/m3, IAPWS), 3.72 bar; the check valve
 * holds what little the water's inertia pushed in beyond. */
static void gauges_of_a_standing_pump(void)
{
    const char *sets[] = {"check_valve.opening_pressure=0 Pa"};

    sheet_scene_make(sets, 1, "pressure-start");
    const struct pd_bench *bench = &sheet.bench[0];
    CU_ASSERT(near(bench->supply, 2e5, 1e-9));
    CU_ASSERT(near(bench->shutoff, 2e5 + 38 * 999.1 * 9.80665, 1e-2));
    // a set run-on of 7 s begins when the tank is full again
    CU_ASSERT(bench->run_on >= 7 && bench->run_on < 15);
    CU_ASSERT(bench->runs_on && isnan(bench->one_tap_cycle));
    CU_ASSERT(bench->three_taps < bench->one_tap && bench->one_tap < bench->shutoff);
    // pump.csv: 450 W at no flow, 650 W at 40 L/min; 2 W of standby by default
    CU_ASSERT(bench->one_tap_power > 452 && bench->one_tap_power < 652);
    CU_ASSERT(bench->trickle_cycle > bench->seconds);
    sheet_scene_end();
}

/* A supply that moves gives three columns: its lowest, its time average and its highest. */
static void a_column_a_supply(void)
{
    static struct pd_sample supply[] = {{0, 1e5}, {43200, 3e5}};

    sheet_scene_make(NULL, 0, "peak-only");
    scene.supply = supply;
    scene.supply_count = 2;
    scene.value[PD_SUPPLY_PRESSURE] = NAN;
    sheet_scene_remake("peak-only");
    CU_ASSERT_EQUAL_FATAL(sheet.count, 3);
    CU_ASSERT(near(sheet.bench[0].supply, 1e5, 1e-9));
    CU_ASSERT(near(sheet.bench[1].supply, 2e5, 1e-6));
    CU_ASSERT(near(sheet.bench[2].supply, 3e5, 1e-9));
    // at 3 bar nothing drags the header to the start pressure of 1.48 bar
    CU_ASSERT(isnan(sheet.bench[2].seconds) && !sheet.bench[2].runs_on);
    CU_ASSERT(sheet.bench[2].one_tap < 3e5);
    // a stop flow of more than a tap leaves a trickle a trickle
    CU_ASSERT(sheet.trickle_flow <= sheet.tap_flow / 4 * (1 + 1e-12));
    scene.supply = NULL;
    scene.supply_count = 0;
    sheet_scene_end();
}

/* A leak over the stop flow keeps the pump on, and a two-pressure switch stops at its pressure. */
static void odd_pumps(void)
{
    const char *leak[] = {"house.leak=6 L/min"};
    const char *two[] = {"pressure_start.start=3 bar", "pressure_start.stop_pressure=4.5 bar",
                         "tank.gas=isothermal"};

    sheet_scene_make(leak, 1, "pressure-start");
    CU_ASSERT_TRUE(sheet.bench[0].runs_already);
    CU_ASSERT_TRUE(isnan(sheet.bench[0].run_on) && isnan(sheet.bench[0].shutoff));
    sheet_scene_end();
    sheet_scene_make(two, 3, "pressure-start");
    CU_ASSERT(near(sheet.bench[0].shutoff, 4.5e5, 1e-4));
    // with all taps shut the gauge stays where the pump stopped
    CU_ASSERT(near(sheet.bench[0].rest, 4.5e5, 0.02));
    // Boyle: V p (1/start - 1/stop), all absolute, from where the gauge stood
    double gas = sheet.tank * (sheet.strategy.precharge + 101325);
    double given = gas * (1 / (3e5 + 101325) - 1 / (sheet.bench[0].rest + 101325));
    CU_ASSERT(near(sheet.bench[0].drawn, given, 0.02));
    CU_ASSERT_FALSE(sheet.bench[0].runs_on);
    CU_ASSERT(sheet.bench[0].one_tap_cycle > sheet.bench[0].seconds / 2);
    CU_ASSERT_TRUE(isnan(sheet.bench[0].one_tap));
    double boyle = sheet.bench[0].drawn;
    sheet_scene_end();
    // unless told otherwise the gas cools from the pump's stop on: the gauge falls, by no more than
    // after a fast compression (T ~ p^(2/7)) from the start, and the tank gives less
    sheet_scene_make(two, 2, "pressure-start");
    double coolest = 5.51325e5 * pow(4.01325 / 5.51325, 2.0 / 7) - 101325;
    CU_ASSERT(sheet.bench[0].rest < 4.45e5 && sheet.bench[0].rest > coolest);
    CU_ASSERT(sheet.bench[0].drawn < 0.9 * boyle);
    sheet_scene_end();
}

static void page_keeps_text_text(void)
{
    const char *sets[] = {"title=a <b>\"house\"</b> & more", "guard.low_suction=0.5 bar"};
    char text[TEXT_MOST];

    sheet_scene_make(sets, 2, "pressure-start");
    (void)sheet_scene_written(sheet_write_html, PD_UNITS_SI, text);
    CU_ASSERT(sheet_scene_has(text, "a &lt;b&gt;&quot;house&quot;&lt;/b&gt; &amp; more"));
    CU_ASSERT_PTR_NULL(strstr(text, "<b>\"house"));
    CU_ASSERT(sheet_scene_has(text, "trip at suction under</span><b>50 kPa"));
    // 15 degC
    CU_ASSERT(sheet_scene_has(text, "15 \xC2\xB0"
                                    "C"));
    CU_ASSERT(sheet_scene_has(text, "<td class=\"blank\"></td>"));
    // nothing is fetched from elsewhere
    CU_ASSERT_PTR_NULL(strstr(text, "http"));
    CU_ASSERT_PTR_NULL(strstr(text, "<script"));
    sheet_scene_end();
}

/* The cautions of the trade (common practice, no source) are all on it. */
static void text_has_the_cautions(void)
{
    static const char *const words[] = {
        "Isolate",         "reads zero", "arrow",  "sealant", "purge the air", "local codes",
        "licensed trades", "Back-flow",  "bucket", "run-on",  " psi"};
    char text[TEXT_MOST];

    sheet_scene_make(NULL, 0, "flow-start");
    (void)sheet_scene_written(sheet_write_text, PD_UNITS_US, text);
    for (size_t i = 0; i < COUNT(words); i++) {
        CU_ASSERT(sheet_scene_has(text, words[i]));
    }
    CU_ASSERT_PTR_NULL(strstr(text, " bar"));
    CU_ASSERT_PTR_NULL(strstr(text, "%s"));
    for (const char *line = text; *line != '\0';) {
        size_t length = strcspn(line, "\n");
        CU_ASSERT(length <= 100);
        line += length + (line[length] == '\n');
    }
    sheet_scene_end();
}

void suite_sheet(void)
{
    CU_pSuite suite = CU_add_suite("sheet", NULL, NULL);

    CU_ADD_TEST(suite, bucket_by_boyle);
    CU_ADD_TEST(suite, gauges_of_a_standing_pump);
    CU_ADD_TEST(suite, a_column_a_supply);
    CU_ADD_TEST(suite, odd_pumps);
    CU_ADD_TEST(suite, page_keeps_text_text);
    CU_ADD_TEST(suite, text_has_the_cautions);
}
