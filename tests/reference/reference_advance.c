/* Moves a day along, step by step, and cuts a step at the first event in it. */
#include "reference_parts.h"
#include <math.h>
#include <string.h>

enum { PARTS = 8 }; // of a step, at which events that come and go are looked for

static const double first_step = 1e-3;     // s, after every event
static const double time_of_events = 2e-9; // s, to which they are located

/* Cubic through both ends of the step. */
static void state_between(const struct ref_stepper *stepper, double part, double *y)
{
    double rest = 1 - part;
    double begins = rest * rest * (1 + 2 * part);
    double ends = part * part * (1 + 2 * rest);
    double slope = stepper->h * part * rest;

    for (int i = 0; i < REF_STATES; i++) {
        y[i] = stepper->y0[i] * begins + stepper->y1[i] * ends +
               slope * (stepper->rates0[i] * rest - stepper->rates1[i] * part);
    }
}

static double margin_at(const struct ref_stepper *stepper, int event, double length,
                        const double *y)
{
    return ref_event_margin(stepper->day, event, stepper->begin + length, y);
}

/* Makes a state within the step its end. */
static void cut(struct ref_stepper *stepper, double length, const double *y)
{
    memcpy(stepper->y1, y, sizeof stepper->y1);
    stepper->h = length;
    ref_rates(stepper->day, stepper->begin + length, y, stepper->rates1);
}

/* Shortens the step to the first moment at which an event has happened; at its end it has.
 * Regula falsi with halved weights (Illinois), now and then a bisection. */
static bool locate(struct ref_stepper *stepper, int event)
{
    double low = 0, high = stepper->h;
    double at_low = margin_at(stepper, event, low, stepper->y0);
    double at_high = margin_at(stepper, event, high, stepper->y1);
    double y[REF_STATES], first[REF_STATES];

    memcpy(first, stepper->y1, sizeof first);
    for (int i = 0; high - low > time_of_events && i < 200; i++) {
        double at = low + (high - low) * (at_low < 0 ? at_low / (at_low - at_high) : 0.5);
        // a little to the far side, so that the bracket closes from both ends
        at += time_of_events / 4;
        if (i % 4 == 3 || at >= high) {
            at = (low + high) / 2;
        }
        if (!ref_state_after(stepper, at, y)) {
            return false;
        }
        double margin = margin_at(stepper, event, at, y);
        if (margin > 0) {
            high = at;
            at_high = margin;
            at_low /= 2;
            memcpy(first, y, sizeof first);
        } else {
            low = at;
            at_low = margin;
            at_high /= 2;
        }
    }
    cut(stepper, high, first);
    return true;
}

/* True if an event has happened at a part of the step.  The cubic only hints: a step of that
 * length decides, and the step is cut there. */
static bool happened_at(struct ref_stepper *stepper, int event, int part, const double *between)
{
    double y[REF_STATES];
    double length = stepper->h * part / PARTS;

    if (margin_at(stepper, event, length, between) <= 0) {
        return false;
    }
    if (part == PARTS) {
        return true;
    }
    if (!ref_state_after(stepper, length, y) || margin_at(stepper, event, length, y) <= 0) {
        return false;
    }
    cut(stepper, length, y);
    return true;
}

/* Any event that has happened at some part of the step, the step cut there; REF_EVENTS if none. */
static int find_event(struct ref_stepper *stepper)
{
    double y[REF_STATES];

    for (int part = 1; part <= PARTS; part++) {
        state_between(stepper, (double)part / PARTS, y);
        for (int event = 0; event < REF_EVENTS; event++) {
            if (happened_at(stepper, event, part, part < PARTS ? y : stepper->y1)) {
                return event;
            }
        }
    }
    return REF_EVENTS;
}

/* Cuts the step at its first event: locates any, then looks for others in what is left. */
static bool cut_at_event(struct ref_stepper *stepper, bool *found)
{
    bool located[REF_EVENTS] = {false};
    int event = find_event(stepper);

    *found = event < REF_EVENTS;
    while (event < REF_EVENTS && !located[event]) {
        if (!locate(stepper, event)) {
            return false;
        }
        located[event] = true;
        event = 0;
        while (event < REF_EVENTS &&
               (located[event] || margin_at(stepper, event, stepper->h, stepper->y1) <= 0)) {
            event++;
        }
    }
    return true;
}

/* Notes lowest and highest pressures over the step. */
static void observe(const struct ref_stepper *stepper)
{
    const struct ref_day *day = stepper->day;
    struct reference_result *result = day->result;
    double y[REF_STATES];

    if (!day->counting) {
        return;
    }
    for (int i = 0; i <= 4; i++) {
        state_between(stepper, i / 4.0, y);
        if (day->draw_count > 0) {
            result->lowest_tap = fmin(result->lowest_tap, ref_tap_pressure(day, y));
        }
        result->highest_header = fmax(result->highest_header, y[REF_HEADER]);
        if (day->valve_open && y[REF_FLOW] > 0) {
            double time = stepper->begin + stepper->h * i / 4.0;
            result->lowest_suction = fmin(result->lowest_suction, ref_suction(day, time, y));
        }
    }
}

bool ref_advance(struct ref_stepper *stepper, double until)
{
    struct ref_day *day = stepper->day;
    bool found = false;

    stepper->implicit = false;
    stepper->since_choice = 0;
    stepper->next = first_step;
    while (day->time < until && !found) {
        double left = until - day->time;
        stepper->begin = day->time;
        memcpy(stepper->y0, day->y, sizeof day->y);
        if (!ref_take_step(stepper, left) || !cut_at_event(stepper, &found)) {
            return false;
        }
        observe(stepper);
        memcpy(day->y, stepper->y1, sizeof day->y);
        // the end itself is met exactly
        day->time = stepper->h >= left ? until : day->time + stepper->h;
    }
    return true;
}
