/* The leak test of a commissioning sheet.  Its order (power off, house valve open, then shut) is
 * common practice, no source; its times follow from the tank, see struct pd_leak_test. */
#include "present/sheet_parts.h"

#include <math.h>

/* "25 min"; hours where that is long. */
static const char *wait_text(char text[SHEET_VALUE_MOST], double seconds)
{
    if (seconds >= 7200) {
        (void)snprintf(text, SHEET_VALUE_MOST, "%.0f hours", ceil(seconds / 3600));
    } else {
        (void)snprintf(text, SHEET_VALUE_MOST, "%.0f min", seconds / 60);
    }
    return text;
}

/* A leak is so small that it is told by the hour. */
static const char *leak_text(char text[SHEET_VALUE_MOST], const struct filler *filler, double flow)
{
    bool us = filler->units == PD_UNITS_US;
    const struct pd_unit *unit = pd_unit_find(PD_KIND_VOLUME, us ? "gal" : "L");

    (void)snprintf(text, SHEET_VALUE_MOST, "%.2g %s an hour", pd_unit_from_si(unit, flow * 3600),
                   unit->name);
    return text;
}

static char *next(struct filler *filler)
{
    return filler->content->test[filler->content->test_count++];
}

static void tell_begin(struct filler *filler)
{
    const struct pd_leak_test *test = &filler->sheet->leak_test;
    char settle[SHEET_VALUE_MOST], from[SHEET_VALUE_MOST];

    wait_text(settle, test->settle);
    sheet_pressure(from, filler, test->from);
    if (test->lifted) {
        (void)snprintf(next(filler), SHEET_STEP_MOST,
                       "Draw until the pump runs, shut all taps, let it stop. Power off (else it "
                       "starts while one waits), water heater off, nobody draws. The supply valve "
                       "stays open. Wait %s: the gauge stands at some %s%s.",
                       settle, from,
                       filler->sheet->supply == PD_SUPPLY_MAIN ? ", over the supply's" : "");
    } else {
        (void)snprintf(next(filler), SHEET_STEP_MOST,
                       "The pump does not lift the gauge over the supply's here, and the supply "
                       "would feed any leak: shut the supply valve; the check valve is not tested "
                       "so. Power off, water heater off, nobody draws. Wait %s.",
                       settle);
    }
}

/* Water from below has no gauge of its own, and a shut supply valve makes none. */
static bool has_supply_gauge(const struct filler *filler)
{
    return filler->sheet->leak_test.lifted && filler->sheet->supply == PD_SUPPLY_MAIN;
}

static void tell_looks(struct filler *filler)
{
    bool two = has_supply_gauge(filler);
    const char *blanks = two ? "________ and supply gauge ________" : "________";
    const char *more = two ? "________ and ________" : "________";
    char wait[SHEET_VALUE_MOST];

    wait_text(wait, filler->sheet->leak_test.seconds);
    (void)snprintf(next(filler), SHEET_STEP_MOST,
                   "House valve (behind tank and gauge) open: gauge %s, after %s: %s.%s", blanks,
                   wait, more,
                   two ? " A gauge that has come down to the supply's has fallen, however still it "
                         "stands: the supply holds it there."
                       : "");
    (void)snprintf(next(filler), SHEET_STEP_MOST, "House valve shut: gauge %s, after %s: %s.",
                   blanks, wait, more);
}

static void tell_why(struct filler *filler)
{
    const struct pd_leak_test *test = &filler->sheet->leak_test;
    char wait[SHEET_VALUE_MOST], whole[SHEET_VALUE_MOST], flow[SHEET_VALUE_MOST],
        worth[SHEET_VALUE_MOST], fall[SHEET_VALUE_MOST], rest[SHEET_STEP_MOST / 2];

    leak_text(worth, filler, test->worth);
    if (test->whole > test->seconds) {
        (void)snprintf(
            rest, sizeof rest,
            "For %s, the least worth a search (common practice, no source), leave it %s.", worth,
            wait_text(whole, test->whole));
    } else {
        (void)snprintf(rest, sizeof rest,
                       "Less is not worth a search (common practice, no source).");
    }
    (void)snprintf(filler->content->why, SHEET_STEP_MOST,
                   "So long, because a leak of %s needs %s to take gauge and tank down by %s, the "
                   "least that can be read: half a division of the usual dial. %s",
                   leak_text(flow, filler, test->flow), wait_text(wait, test->seconds),
                   sheet_pressure(fall, filler, test->fall), rest);
}

static void add_outcome(struct filler *filler, const char *open, const char *shut,
                        const char *means)
{
    struct sheet_outcome *outcome = &filler->content->outcome[filler->content->outcome_count++];

    outcome->open = open;
    outcome->shut = shut;
    (void)snprintf(outcome->means, sizeof outcome->means, "%s", means);
}

/* What falls with the house valve shut. */
static const char *booster_leaks(const struct filler *filler)
{
    if (!filler->sheet->leak_test.lifted) {
        return "The booster itself leaks: joints, relief valve, tank, gas valve.";
    }
    if (filler->sheet->supply != PD_SUPPLY_MAIN) {
        return "The check or foot valve passes (a pump over its water then loses its prime), or "
               "the booster itself "
               "leaks: joints, relief valve, tank, gas valve.";
    }
    return "The check valve passes, or the booster itself leaks: joints, relief valve, tank, gas "
           "valve. Shut the supply valve too: if a gauge between it and the pump now climbs to the "
           "house gauge, it is the check valve.";
}

void sheet_fill_leak_test(struct filler *filler)
{
    char tight[SHEET_STEP_MOST], flow[SHEET_VALUE_MOST];

    if (!filler->sheet->leak_test.lifted && filler->sheet->lift > 0) {
        (void)snprintf(next(filler), SHEET_STEP_MOST,
                       "The pump gives no pressure here, so that no gauge shows a leak: test when "
                       "it does.");
        return;
    }
    tell_begin(filler);
    tell_looks(filler);
    tell_why(filler);
    (void)snprintf(tight, sizeof tight, "Tight: no leak of %s or more.",
                   leak_text(flow, filler, filler->sheet->leak_test.flow));
    add_outcome(filler, "stands", "stands", tight);
    add_outcome(filler, "falls", "stands",
                "A leak in the house: taps, WC cisterns, the heater's relief valve, pipes.");
    add_outcome(filler, "falls", "falls", booster_leaks(filler));
    add_outcome(filler, "falls faster", "falls", "Both: a leak in the house, and the line above.");
    add_outcome(filler, "rises", "or rises",
                "No test: the supply has risen over the gauge, or water warms. Again when both are "
                "quiet.");
}
