/* The verdict on a day: each fault is a test of its own, and they stand in one list. */
#include "studies/verdict.h"

#include <pumpday/compare.h>

#include <math.h>
#include <string.h>

/* A pump that no controller stopped and that ran all but half an hour of the day will not stop. */
static const double endless_run_time = 23.5 * 3600;

/* A run that moved less than a thimble moved nothing. */
static const double nothing = 1e-6; /* m3 */

/* All that a fault is judged from. */
struct evidence {
    const struct pd_day_result *day;
    const struct pd_plant *plant;
    const struct pd_limits *limits;
};

bool verdict_low_taps(const struct pd_day_result *day)
{
    return day->time_below_tap_limit > PD_LOW_TAP_SHARE * day->time_draw_open;
}

static bool has_low_taps(const struct evidence *evidence)
{
    return verdict_low_taps(evidence->day);
}

/* Comparisons with a limit or a figure that is not there (NAN) are false: no fault. */
static bool is_short_cycling(const struct evidence *evidence)
{
    const struct pd_day_result *day = evidence->day;
    const struct pd_limits *limits = evidence->limits;

    return day->starts_in_worst_hour > limits->starts_per_hour ||
           day->starts > limits->starts_per_day || day->shortest_run < limits->shortest_run;
}

static bool is_over_pressure(const struct evidence *evidence)
{
    return evidence->day->highest_header_pressure > evidence->limits->static_pressure;
}

static bool has_poor_suction(const struct evidence *evidence)
{
    const struct pd_plant *plant = evidence->plant;
    double suction = evidence->day->lowest_suction_pressure + plant->atmosphere;

    return evidence->day->lowest_npsh_margin < 0 || suction < plant->water.vapour_pressure;
}

bool verdict_never_ran(const struct pd_day_result *day)
{
    return day->starts == 0 && !(day->run_time > 0);
}

static bool never_starts(const struct evidence *evidence)
{
    return verdict_never_ran(evidence->day) && has_low_taps(evidence);
}

bool verdict_never_stops(const struct pd_day_result *day)
{
    for (size_t i = 0; i < day->run_count; i++) {
        if (day->runs[i].stop_cause != PD_CAUSE_END_OF_DAY) {
            return false;
        }
    }
    return day->run_time >= endless_run_time;
}

static bool never_stops(const struct evidence *evidence)
{
    return verdict_never_stops(evidence->day);
}

/* A run that moved no water: the supply was dry, or the pump too weak to open the check valve. */
bool verdict_moves_no_water(const struct pd_day_result *day)
{
    for (size_t i = 0; i < day->run_count; i++) {
        const struct pd_run *run = &day->runs[i];
        bool whole =
            run->start_cause != PD_CAUSE_CARRIED_OVER && run->stop_cause != PD_CAUSE_END_OF_DAY;
        if (whole && run->volume < nothing) {
            return true;
        }
    }
    return false;
}

static bool moves_no_water(const struct evidence *evidence)
{
    return verdict_moves_no_water(evidence->day);
}

static bool chatters(const struct evidence *evidence)
{
    return evidence->day->ending == PD_ENDING_CHATTER;
}

static bool is_locked_out(const struct evidence *evidence)
{
    return evidence->day->locked_out;
}

static bool has_suction_trips(const struct evidence *evidence)
{
    return evidence->day->suction_trips > 0;
}

/* In the order in which a reader wants them: what breaks things first. */
struct fault {
    const char *words;
    bool (*is_there)(const struct evidence *evidence);
};

static const struct fault faults[] = {
    {"chatters", chatters},
    {"short-cycling", is_short_cycling},
    {"over-pressure", is_over_pressure},
    {"never starts", never_starts},
    {"never stops", never_stops},
    {"moves no water", moves_no_water},
    {"locked out", is_locked_out},
    {"suction trips", has_suction_trips},
    {"poor suction", has_poor_suction},
    {"low taps", has_low_taps},
};

static void add_words(char text[PD_VERDICT_MOST], const char *words)
{
    size_t length = strlen(text);
    size_t gap = length > 0 ? 2 : 0;
    size_t more = strlen(words);

    // all the faults at once are longer than the text; a whole one is left out, never half of it
    if (length + gap + more < PD_VERDICT_MOST) {
        memcpy(text + length, "; ", gap);
        memcpy(text + length + gap, words, more + 1);
    }
}

bool pd_verdict(const struct pd_day_result *result, const struct pd_plant *plant,
                const struct pd_limits *limits, char text[PD_VERDICT_MOST])
{
    struct evidence evidence = {result, plant, limits};
    bool good = true;

    text[0] = '\0';
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        if (faults[i].is_there(&evidence)) {
            add_words(text, faults[i].words);
            good = false;
        }
    }
    if (good) {
        add_words(text, "ok");
        // a pump that the supply makes needless is worth a word
        if (verdict_never_ran(result)) {
            add_words(text, "pump not needed");
        }
    }
    return good;
}
