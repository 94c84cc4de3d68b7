/* The order of work of a commissioning sheet.  Common practice, no source, where none is named. */
#include "present/sheet_parts.h"

#include <math.h>
#include <stdarg.h>

static void say(struct filler *filler, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void say(struct filler *filler, const char *format, ...)
{
    struct sheet_content *content = filler->content;
    va_list values;

    va_start(values, format);
    (void)vsnprintf(content->step[content->step_count++], SHEET_STEP_MOST, format, values);
    va_end(values);
}

static bool is_main(const struct filler *filler)
{
    return filler->sheet->supply == PD_SUPPLY_MAIN;
}

static void tell_isolation(struct filler *filler)
{
    say(filler,
        "Isolate: power off, locked off and proven dead; supply valve shut. Electrical work%s "
        "belong to licensed trades; local codes decide%s.",
        is_main(filler) ? ", pressure vessels and connections to a main" : " and pressure vessels",
        is_main(filler) ? ", and the supplier where a main is boosted" : "");
}

static void tell_suction(struct filler *filler)
{
    say(filler,
        "%s The suction pipe is tight, no smaller than the pump's inlet, short, and rises all the "
        "way to the pump.",
        is_main(filler) ? "Back-flow protection is in place as local code and supplier want it."
                        : "Back-flow: nothing joins this water to a public main, but by what the "
                          "local code allows.");
}

static void tell_check_valve(struct filler *filler)
{
    say(filler,
        "Check valve: its arrow points with the flow, to the house. No sealant where it can reach "
        "the valve.%s",
        filler->sheet->lift > 0 ? " A foot valve keeps the suction pipe full." : "");
}

/* The window for the relief valve, or why there is none. */
static void tell_relief(struct filler *filler)
{
    static const char where[] =
        "Relief valve: at the tank, nothing that shuts between them, passes the pump's whole flow, "
        "outlet led where it is seen and hurts nobody.";
    const struct pd_sheet *sheet = filler->sheet;
    char most[SHEET_VALUE_MOST], standing[SHEET_VALUE_MOST], rated[SHEET_VALUE_MOST];
    const char *sticks = sheet_is_switch(filler) ? " With its switch stuck the pump can make "
                                                 : " The pump can make ";

    sheet_pressure(most, filler, sheet->highest);
    sheet_pressure(standing, filler, sheet->standing);
    sheet_pressure(rated, filler, sheet->rated);
    if (isnan(sheet->rated)) {
        say(filler,
            "%s%s%s. Set it well over %s and not over the lowest rating of tank, heater, valves "
            "and "
            "pipes: ________",
            where, sticks, most, standing);
    } else if (sheet->rated > sheet->standing) {
        say(filler,
            "%s%s%s. Set it well over %s and not over %s, the tank's rating, or less where heater, "
            "valves or pipes are rated lower: ________",
            where, sticks, most, standing, rated);
    } else {
        say(filler,
            "%s%s%s. No setting is right: in use it stands at %s, the tank is rated for %s.", where,
            sticks, most, standing, rated);
    }
}

enum { ROOM_MOST = 80 };

/* "takes 0.9 L more up to 5.52 bar" */
static void tell_room(char text[ROOM_MOST], const struct filler *filler)
{
    const struct pd_sheet *sheet = filler->sheet;
    char room[SHEET_VALUE_MOST], ceiling[SHEET_VALUE_MOST];

    sheet_amount(room, filler, PD_KIND_VOLUME, sheet->room);
    sheet_pressure(ceiling, filler, sheet->ceiling);
    if (!isfinite(sheet->ceiling)) {
        // neither a rating nor a limit is told
        (void)snprintf(text, ROOM_MOST, "takes no more than its plate allows");
    } else if (sheet->room > 0) {
        (void)snprintf(text, ROOM_MOST, "takes %.20s more up to %.20s", room, ceiling);
    } else {
        (void)snprintf(text, ROOM_MOST, "has no room for it");
    }
}

static void tell_expansion(struct filler *filler)
{
    char cold[SHEET_VALUE_MOST], hot[SHEET_VALUE_MOST], room[ROOM_MOST];

    tell_room(room, filler);
    say(filler,
        "Water heater: the check valve closes the system, and what the heater warms has no way "
        "back (it grows by %.1f %% from %s to %s). It has its own relief valve, and an expansion "
        "tank as the local code wants. When full, the booster's tank %s.",
        100 * filler->sheet->expansion,
        sheet_amount(cold, filler, PD_KIND_TEMPERATURE, PD_HEATER_COLD),
        sheet_amount(hot, filler, PD_KIND_TEMPERATURE, PD_HEATER_HOT), room);
}

static void tell_plate(struct filler *filler)
{
    const struct pd_sheet *sheet = filler->sheet;
    char most[SHEET_VALUE_MOST], precharge[SHEET_VALUE_MOST], rated[SHEET_VALUE_MOST];

    sheet_pressure(most, filler, sheet->highest);
    sheet_pressure(precharge, filler, sheet->strategy.precharge);
    if (isnan(sheet->rated)) {
        say(filler,
            "The tank's plate: read its rated pressure: ________ It is not under %s, the most that "
            "the pump can make, and well over the precharge, %s. If it is, stop here.",
            most, precharge);
    } else {
        say(filler,
            "The tank's plate: read its rated pressure: ________ This sheet counts on %s, against "
            "the pump's %s and a precharge of %s. If the plate says less, stop here.",
            sheet_pressure(rated, filler, sheet->rated), most, precharge);
    }
}

static void tell_precharge(struct filler *filler)
{
    static const char drain[] =
        "Precharge: only with the pressure off and the tank empty of water. Drain the water side "
        "by "
        "its drain or lowest tap until the gauge reads zero; leave that open. Only then read the "
        "precharge (note it below as found)";
    char precharge[SHEET_VALUE_MOST], warmth[SHEET_VALUE_MOST];

    if (sheet_precharge_is_wrong(filler)) {
        say(filler, "%s. Do not set it yet: see the box.", drain);
        return;
    }
    say(filler, "%s and set it to %s (gas at %s), never over the plate. Shut the drain.", drain,
        sheet_pressure(precharge, filler, filler->sheet->strategy.precharge),
        sheet_amount(warmth, filler, PD_KIND_TEMPERATURE, filler->sheet->temperature));
}

static void tell_priming(struct filler *filler)
{
    char lift[SHEET_VALUE_MOST];

    if (filler->sheet->lift > 0) {
        say(filler,
            "Prime: the water lies up to %s under the pump, which cannot draw it up with air in "
            "it. "
            "Power off. Open the priming plug, pour clean water into pump and suction pipe until "
            "it stands at the plug without bubbles, wait five minutes. If it sinks, the foot valve "
            "or a joint leaks: mend that first. Shut the plug.",
            sheet_amount(lift, filler, PD_KIND_HEAD, filler->sheet->lift));
    } else if (is_main(filler)) {
        say(filler, "Fill: open the supply slowly and purge the air from pump and pipes, at the "
                    "pump's plug and a tap, until water runs without bubbles.");
    } else {
        say(filler, "Prime: the water stands over the pump and runs to it. Open the supply slowly; "
                    "purge the air from pump and pipes, at the pump's plug (a pump in a well has "
                    "none) and a tap, until water runs without bubbles.");
    }
}

static void tell_static(struct filler *filler)
{
    if (filler->sheet->lift > 0) {
        say(filler,
            "Pump still off, all taps shut: nothing drips. The gauge behind the check valve "
            "shows nothing of water that lies under the pump: it reads zero, or what "
            "stands in the pipes over it, never less.");
    } else {
        say(filler, "Pump still off, all taps shut: read the static gauge. Nothing drips.");
    }
}

static void tell_power(struct filler *filler)
{
    bool no_guard = !isfinite(filler->scenario->value[PD_GUARD_DRY_RUN_TIME]) &&
                    !isfinite(filler->scenario->value[PD_GUARD_LOW_SUCTION]);

    say(filler,
        "Licensed electrician: earthing, residual-current protection, motor overload set by the "
        "motor's plate, direction of turn. Power on. Put in the settings above.%s",
        no_guard ? " No guard against running dry is set: ask the pump's maker for one." : "");
}

static void tell_start_stop(struct filler *filler)
{
    const struct pd_strategy *strategy = &filler->sheet->strategy;
    char stop[SHEET_VALUE_MOST];
    bool is_switch = sheet_is_switch(filler);

    say(filler,
        "Open a tap until the pump runs. Water without air within a minute, else power off at once "
        "and %s again: a dry pump is soon ruined. Shut the tap: the pump stops %s %s.",
        filler->sheet->lift > 0 ? "prime" : "purge",
        is_switch ? "when the gauge has risen to" : "once the tank is full, after a run-on of",
        is_switch ? sheet_pressure(stop, filler, strategy->stop_pressure)
                  : sheet_amount(stop, filler, PD_KIND_TIME, strategy->run_on));
}

static void tell_rest(struct filler *filler)
{
    say(filler, "Take the readings below in their order. One that is off by more than a tenth has "
                "a cause: find it before going on.");
    say(filler, "Leak test as below, with the power off again.");
    say(filler, "Power on, house valve open; draw once more: the pump starts and stops. Leave this "
                "sheet with the installation. Gauge the precharge again in a year.");
}

void sheet_fill_steps(struct filler *filler)
{
    tell_isolation(filler);
    tell_suction(filler);
    tell_check_valve(filler);
    tell_relief(filler);
    tell_expansion(filler);
    tell_plate(filler);
    tell_precharge(filler);
    tell_priming(filler);
    tell_static(filler);
    filler->content->power_on = filler->content->step_count;
    tell_power(filler);
    tell_start_stop(filler);
    tell_rest(filler);
}
