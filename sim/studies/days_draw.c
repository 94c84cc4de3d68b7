/* Draws the days of a household, and joins an evening to the day after it. */
#include "studies/days_draw.h"

#include "base/memory.h"

#include <pumpday/days.h>

#include <stdlib.h>
#include <string.h>

static bool draw(const struct pd_scenario *scenario, uint64_t seed, long day,
                 struct pd_draws *draws, struct pd_error *error)
{
    struct pd_calendar calendar = pd_scenario_calendar(scenario);

    return pd_household_day(scenario->uses, scenario->use_count, &calendar, seed, day, draws,
                            error);
}

/* Puts a day's draws in place of those that stand there.  The lists change hands. */
static void put_draws(struct pd_scenario *scenario, struct pd_draws *draws, size_t evening_count,
                      bool follows)
{
    free(scenario->draws);
    scenario->draws = draws->draw;
    scenario->draw_count = draws->count - evening_count;
    scenario->evening_count = evening_count;
    scenario->follows = follows;
    free(scenario->profile);
    scenario->profile = NULL;
    scenario->profile_count = 0;
    *draws = (struct pd_draws){0};
}

/* Adds what the evening of the day before draws behind the draws of a day. */
static bool add_evening(struct pd_draws *draws, const struct pd_draws *before, double evening,
                        struct pd_error *error)
{
    size_t first = 0;

    while (first < before->count && before->draw[first].time < PD_DAY_SECONDS - evening) {
        first++;
    }
    size_t more = before->count - first;
    struct pd_draw *draw =
        pd_memory_resize(draws->draw, (draws->count + more + 1) * sizeof *draws->draw);
    if (draw == NULL) {
        return pd_error_memory(error);
    }
    if (more > 0) {
        memcpy(draw + draws->count, before->draw + first, more * sizeof *draw);
    }
    draws->draw = draw;
    draws->count += more;
    return true;
}

bool days_draw(struct days_draws *draws, struct pd_scenario *scenario, uint64_t seed, long day,
               double evening, struct pd_error *error)
{
    bool follows = evening > 0 && day > 1;

    if (!draw(scenario, seed, day, &draws->day, error)) {
        return false;
    }
    size_t count = draws->day.count;
    if (follows && (!draw(scenario, seed, day - 1, &draws->before, error) ||
                    !add_evening(&draws->day, &draws->before, evening, error))) {
        return false;
    }
    put_draws(scenario, &draws->day, draws->day.count - count, follows);
    return true;
}

void days_draws_free(struct days_draws *draws)
{
    pd_draws_free(&draws->day);
    pd_draws_free(&draws->before);
}

bool pd_days_draw(struct pd_scenario *scenario, uint64_t seed, long day, struct pd_error *error)
{
    struct days_draws draws = {0};
    bool good = days_draw(&draws, scenario, seed, day, 0, error);

    days_draws_free(&draws);
    return good;
}
