/* Most starts in any 60 minutes of a day that comes after one like it.  An hour over midnight
 * begins with the starts of the warm-up, which is the evening before; a warm-up shorter than an
 * hour knows too little of it, and the day's own last hour takes its place. */
#include "day/inside.h"

static const double hour = 3600.0; /* s */

static void note(struct pd_day *day, double time)
{
    if (time > -hour && day->evening_count < PD_RUNS_MOST) {
        day->evening[day->evening_count++] = time;
    }
}

void worst_hour_evening(struct pd_day *day)
{
    note(day, day->now);
}

static bool knows_evening(const struct pd_day *day)
{
    return day->plant->warm_up >= hour || day->result.ending != PD_ENDING_MIDNIGHT;
}

static void repeat_evening(struct pd_day *day)
{
    const struct pd_day_result *result = &day->result;

    day->evening_count = 0;
    for (size_t i = 0; i < result->run_count; i++) {
        if (result->runs[i].start_cause != PD_CAUSE_CARRIED_OVER) {
            note(day, result->runs[i].start - PD_DAY_SECONDS);
        }
    }
}

/* The times of the evening's starts, then of the day's [s after midnight]. */
static double start_of(const struct pd_day *day, size_t number)
{
    const struct pd_day_result *result = &day->result;
    size_t carried = result->run_count - (size_t)result->starts; // no start of this day

    return number < day->evening_count ? day->evening[number]
                                       : result->runs[carried + number - day->evening_count].start;
}

int worst_hour(struct pd_day *day)
{
    size_t most = 0, first = 0;

    if (!knows_evening(day)) {
        repeat_evening(day);
    }
    size_t count = day->evening_count + (size_t)day->result.starts;
    // the worst hour ends with a start
    for (size_t last = 0; last < count; last++) {
        while (start_of(day, last) - start_of(day, first) >= hour) {
            first++;
        }
        most = last + 1 - first > most ? last + 1 - first : most;
    }
    return (int)most;
}

void worst_hour_start(struct pd_day *day)
{
    day->latest[day->latest_count++ % LATEST_MOST] = day->now;
}

double worst_hour_last_rate(const struct pd_day *day)
{
    size_t count = day->latest_count;
    size_t gaps = count > LATEST_MOST ? LATEST_MOST - 1 : count - (count > 0);

    if (gaps == 0) {
        return 0.0;
    }
    double last = day->latest[(count - 1) % LATEST_MOST];
    return hour * (double)gaps / (last - day->latest[(count - 1 - gaps) % LATEST_MOST]);
}
