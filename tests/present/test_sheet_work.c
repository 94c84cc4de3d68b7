/* The commissioning sheet as a fitter follows it: judged first, in an order that hurts nobody, with
 * a leak test that the pump cannot spoil. */
#include "present/sheet_scene.h"

#include "physics/near.h"
#include "present/markup.h"

#include <CUnit/CUnit.h>

void suite_sheet_work(void);

static char text[TEXT_MOST], page[TEXT_MOST];

/* Both layouts of the sheet of a scene with some items set. */
static void write_both(const char *const *sets, size_t count, const char *strategy)
{
    sheet_scene_make(sets, count, strategy);
    (void)sheet_scene_written(sheet_write_text, PD_UNITS_SI, text);
    (void)sheet_scene_written(sheet_write_html, PD_UNITS_SI, page);
    // lines of text are broken anywhere
    for (char *at = text; *at != '\0'; at++) {
        if (*at == '\n') {
            *at = ' ';
        }
    }
    for (char *gap = strstr(text, "  "); gap != NULL; gap = strstr(gap, "  ")) {
        memmove(gap, gap + 1, strlen(gap));
    }
    sheet_scene_end();
}

static bool both_have(const char *words)
{
    return sheet_scene_has(text, words) && sheet_scene_has(page, words);
}

static bool none_has(const char *words)
{
    return strstr(text, words) == NULL && strstr(page, words) == NULL;
}

/* True if both have the words one after another. */
static bool stand_in_order(const char *const *words, size_t count)
{
    const char *in_text = text, *in_page = page;

    for (size_t i = 0; i < count; i++) {
        in_text = strstr(in_text, words[i]);
        in_page = strstr(in_page, words[i]);
        if (in_text == NULL || in_page == NULL) {
            (void)printf("\n      \"%s\" not in its place in\n%s\n%s", words[i], text, page);
            return false;
        }
    }
    return true;
}

/* What can hurt comes before what it would hurt; common practice, no source. */
static void order_of_work(void)
{
    static const char *const words[] = {"Isolate: power off",
                                        "licensed trades",
                                        "Back-flow",
                                        "Check valve: its arrow",
                                        "Relief valve: at",
                                        "Water heater: the",
                                        "plate: read its rated",
                                        "Precharge: only with",
                                        "Fill: open the",
                                        "static gauge",
                                        "Power on.",
                                        "the pump stops",
                                        "Take the readings",
                                        "Leak test",
                                        "Readings",
                                        "precharge as found",
                                        "static gauge: pump",
                                        "Leak test: power off again",
                                        "Power off (else it starts"};

    write_both((const char *const[]){"supply.pressure=1.5 bar", "tank.rated_pressure=10 bar"}, 2,
               "pressure-start");
    CU_ASSERT(stand_in_order(words, COUNT(words)));
    CU_ASSERT(none_has(SHEET_BOX));
    CU_ASSERT_TRUE(markup_is_balanced(page));
    CU_ASSERT_TRUE(markup_headings_in_order(page));
}

/* The box opens the sheet, and the sheet is whole below it. */
static void opens_with(const char *const *sets, size_t count, const char *strategy,
                       const char *reason)
{
    const char *const order[] = {SHEET_BOX,
                                 reason,
                                 "Settings, ",
                                 "Isolate:",
                                 SHEET_NOT_YET,
                                 "Readings",
                                 "Leak test: power off again",
                                 "signed"};

    write_both(sets, count, strategy);
    CU_ASSERT(stand_in_order(order, COUNT(order)));
    CU_ASSERT_TRUE(markup_is_balanced(page));
    CU_ASSERT(none_has("nothing fails"));
}

/* One planted danger each; 2 bar of supply and 38 m of head are 572 kPa, over 80 psi (552 kPa). */
static void box_with_each_reason(void)
{
    static const char *const low[] = {"supply.pressure=1 bar", "tank.precharge=6 bar",
                                      "tank.rated_pressure=5 bar"};
    static const char *const at_start[] = {"supply.pressure=1 bar", "pressure_start.start=3 bar",
                                           "tank.precharge=3 bar"};
    static const char *const rating[] = {"supply.pressure=1 bar", "tank.rated_pressure=4 bar"};
    static const char *const lifted[] = {"supply.pressure=2 bar"};
    static const char *const street[] = {"supply.pressure=6 bar"};
    static const char *const two[] = {"pressure_start.start=2 bar", "supply.pressure=1.5 bar",
                                      "pressure_start.stop_pressure=3.5 bar",
                                      "tank.rated_pressure=4 bar"};

    opens_with(low, COUNT(low), "pressure-start", "Precharge, against the tank");
    CU_ASSERT(both_have("600 kPa, should be at most 500 kPa"));
    opens_with(at_start, COUNT(at_start), "pressure-start", "Precharge not under the start");
    CU_ASSERT(both_have("300 kPa, should be under 300 kPa"));
    opens_with(rating, COUNT(rating), "pressure-start", "Static pressure at the tank");
    opens_with(lifted, COUNT(lifted), "pressure-start", "needed behind the pump");
    CU_ASSERT(both_have("Static pressure at the lowest fixture"));
    opens_with(street, COUNT(street), "peak-only", "needed, pump or not");
    // a switch that sticks lets the pump go to 1.5 bar and 38 m
    opens_with(two, COUNT(two), "pressure-start", "Static pressure at the tank");
    CU_ASSERT(both_have("522 kPa, should be at most 400 kPa"));
}

/* What must not be set is nowhere ordered. */
static void wrong_precharge_is_not_ordered(void)
{
    static const char *const over[] = {"supply.pressure=1 bar", "tank.precharge=6 bar",
                                       "tank.rated_pressure=5 bar"};

    write_both(over, COUNT(over), "flow-start");
    CU_ASSERT(both_have("Do not set it yet: see the box."));
    CU_ASSERT(none_has("set it to 600 kPa"));
    CU_ASSERT(none_has("<td>600 kPa"));
    CU_ASSERT_PTR_NOT_NULL(strstr(page, "<b>see the box</b>"));
}

/* The relief valve opens under the rating and over what is usual. */
static void relief_between_use_and_rating(void)
{
    static const char *const room[] = {"supply.pressure=1 bar", "tank.rated_pressure=8 bar"};
    static const char *const none[] = {"supply.pressure=1 bar", "tank.rated_pressure=4 bar"};
    static const char *const two[] = {"pressure_start.start=2 bar", "supply.pressure=1 bar",
                                      "pressure_start.stop_pressure=3.5 bar",
                                      "tank.rated_pressure=8 bar"};

    write_both(room, COUNT(room), "pressure-start");
    CU_ASSERT(both_have("Set it well over 472 kPa and not over 800 kPa, the tank"));
    write_both(none, COUNT(none), "pressure-start");
    CU_ASSERT(both_have("No setting is right"));
    write_both(two, COUNT(two), "pressure-start");
    CU_ASSERT(
        both_have("With its switch stuck the pump can make 472 kPa. Set it well over 350 kPa"));
}

/* Power off, and the house valve tells the house from the booster. */
static void leak_test_tells_apart(void)
{
    static const char *const outcomes[] = {"Power off (else it starts",
                                           "nobody draws",
                                           "House valve (behind tank and gauge) open",
                                           "supply gauge",
                                           "House valve shut",
                                           "Tight: no leak of 1 L an hour",
                                           "A leak in the house",
                                           "The check valve passes, or the booster itself"};

    write_both(NULL, 0, "pressure-start");
    CU_ASSERT(stand_in_order(outcomes, COUNT(outcomes)));
    CU_ASSERT(both_have("needs 20 min to take gauge and tank down by 10 kPa"));
    CU_ASSERT(both_have("common practice, no source"));
    CU_ASSERT(none_has("if the pump starts, there is a leak"));
}

/* A number with a sign before it. */
static bool tells_less_than_nothing(void)
{
    for (const char *at = strstr(text, " -"); at != NULL; at = strstr(at + 2, " -")) {
        if (at[2] >= '0' && at[2] <= '9') {
            return true;
        }
    }
    return false;
}

/* Water under the pump: primed before the power, and no gauge shows it. */
static void lift_is_primed(void)
{
    // by a pipe so wide that not even the start draws the inlet down: no reason to tell how far
    static const char *const well[] = {"supply.kind=well", "supply.pressure=none",
                                       "supply.level=-4 m", "supply.specific_capacity=30 L/min/m",
                                       "service.diameter=80 mm"};
    static const char *const order[] = {"Prime: the water lies up to 4.0 m under", "priming plug",
                                        "it reads zero", "Power on."};

    write_both(well, COUNT(well), "pressure-start");
    CU_ASSERT(stand_in_order(order, COUNT(order)));
    CU_ASSERT(both_have("none (lift)"));
    CU_ASSERT_FALSE(tells_less_than_nothing());
    CU_ASSERT(none_has("supply gauge"));
    // a pump that waits for flow never gets it from below
    write_both(well, COUNT(well), "flow-start");
    CU_ASSERT(both_have("The pump gives no pressure here"));
    CU_ASSERT(none_has("what it means"));
}

static void flooded_cistern_is_vented(void)
{
    static const char *const sets[] = {"supply.kind=cistern", "supply.pressure=none",
                                       "supply.level=2 m"};

    write_both(sets, COUNT(sets), "pressure-start");
    CU_ASSERT(both_have("Prime: the water stands over the pump"));
    CU_ASSERT(none_has("none (lift)"));
}

/* A switch stops by pressure: nothing on its sheet runs on by flow. */
static void switch_tells_its_stop(void)
{
    static const char *const sets[] = {"pressure_start.start=2 bar", "supply.pressure=1 bar",
                                       "pressure_start.stop_pressure=3.5 bar"};

    write_both(sets, COUNT(sets), "pressure-start");
    CU_ASSERT(both_have("the pump stops when the gauge has risen to 350 kPa"));
    CU_ASSERT(both_have("stop gauge: as the pump stops"));
    CU_ASSERT(none_has("run-on"));
    CU_ASSERT(none_has("stop flow"));
    CU_ASSERT(none_has("shutoff gauge"));
}

/* What the bucket holds is the same for whoever reads the sheet and asks for the fault. */
static void bucket_is_told_precisely(void)
{
    write_both(NULL, 0, "pressure-start");
    CU_ASSERT(both_have("three minutes later open one tap, and catch all its water from that "
                        "moment until the pump starts"));
    CU_ASSERT_EQUAL(PD_BENCH_STANDS, 180);
}

void suite_sheet_work(void)
{
    CU_pSuite suite = CU_add_suite("sheet work", NULL, NULL);

    CU_ADD_TEST(suite, order_of_work);
    CU_ADD_TEST(suite, box_with_each_reason);
    CU_ADD_TEST(suite, wrong_precharge_is_not_ordered);
    CU_ADD_TEST(suite, relief_between_use_and_rating);
    CU_ADD_TEST(suite, leak_test_tells_apart);
    CU_ADD_TEST(suite, lift_is_primed);
    CU_ADD_TEST(suite, flooded_cistern_is_vented);
    CU_ADD_TEST(suite, switch_tells_its_stop);
    CU_ADD_TEST(suite, bucket_is_told_precisely);
}
