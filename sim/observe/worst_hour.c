/* Most starts in any 60 minutes of a day that comes after one like it.  An hour over midnight
 * begins with the starts of the warm-up, which is the evening before; a warm-up shorter than an
 * hour knows too little of it, and the day's own last hour takes its place. */
#include "observe/worst_hour.h"

static const double hour = 3600.0; /* s */

static void note(struct worst_hour *worst, double time)
{
    if (time > -hour && worst->evening_count < PD_RUNS_MOST) {
        worst->evening[worst->evening_count++] = time;
    }
}

static bool knows_evening(const struct run *run)
{
    return run->plant->warm_up >= hour || run->ending != PD_ENDING_MIDNIGHT;
}

static void repeat_evening(struct worst_hour *worst)
{
    const struct pd_day_result *result = worst->result;

    worst->evening_count = 0;
    for (size_t i = 0; i < result->run_count; i++) {
        if (result->runs[i].start_cause != PD_CAUSE_CARRIED_OVER) {
            note(worst, result->runs[i].start - PD_DAY_SECONDS);
        }
    }
}

/* The times of the evening's starts, then of the day's [s after midnight]. */
static double start_of(const struct worst_hour *worst, size_t number)
{
    const struct pd_day_result *result = worst->result;
    size_t carried = result->run_count - (size_t)result->starts; // no start of this day

    return number < worst->evening_count
               ? worst->evening[number]
               : result->runs[carried + number - worst->evening_count].start;
}

static int most_starts(struct worst_hour *worst, const struct run *run)
{
    size_t most = 0, first = 0;

    if (!knows_evening(run)) {
        repeat_evening(worst);
    }
    size_t count = worst->evening_count + (size_t)worst->result->starts;
    // the worst hour ends with a start
    for (size_t last = 0; last < count; last++) {
        while (start_of(worst, last) - start_of(worst, first) >= hour) {
            first++;
        }
        most = last + 1 - first > most ? last + 1 - first : most;
    }
    return (int)most;
}

static double last_rate(const struct worst_hour *worst)
{
    size_t count = worst->latest_count;
    size_t gaps = count > LATEST_MOST ? LATEST_MOST - 1 : count - (count > 0);

    if (gaps == 0) {
        return 0.0;
    }
    double last = worst->latest[(count - 1) % LATEST_MOST];
    return hour * (double)gaps / (last - worst->latest[(count - 1 - gaps) % LATEST_MOST]);
}

static void starts(void *context, const struct run *run, enum pd_cause cause)
{
    struct worst_hour *worst = context;

    if (cause != PD_CAUSE_CARRIED_OVER) {
        worst->latest[worst->latest_count++ % LATEST_MOST] = run->now;
    }
    if (!run->counting) {
        note(worst, run->now);
    }
}

static void end(void *context, const struct run *run)
{
    struct worst_hour *worst = context;

    worst->result->starts_in_worst_hour = most_starts(worst, run);
    worst->result->last_rate = last_rate(worst);
}

struct observer worst_hour_observer(struct worst_hour *worst, struct pd_day_result *result)
{
    worst->result = result;
    worst->evening_count = worst->latest_count = 0;
    return (struct observer){.context = worst, .starts = starts, .end = end};
}
