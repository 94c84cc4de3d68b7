/* Present value of what is paid over the years. */
#include <pumpday/life_cost.h>

#include <math.h>

static const double days_in_year = 365;

/* What a unit of money at today's prices, paid after so many years, is worth today. */
static double worth(const struct pd_life *life, double years)
{
    return pow((1 + life->rise) / (1 + life->rate), years);
}

double pd_life_until(const struct pd_life *life, int last)
{
    double sum = life->purchase;

    for (int year = 1; year <= last; year++) {
        sum += life->yearly * worth(life, year);
    }
    double at = life->renewal_every;
    while (at < life->years && at <= last) {
        sum += life->renewal * worth(life, at);
        at += life->renewal_every;
    }
    return sum;
}

double pd_life_cost(const struct pd_life *life)
{
    return pd_life_until(life, (int)life->years);
}

double pd_life_year(const struct pd_life *life, int year)
{
    double sum = year == 0 ? life->purchase : life->yearly * pow(1 + life->rise, year);

    double at = life->renewal_every;
    while (at < life->years && at <= year) {
        sum += at > year - 1 ? life->renewal * pow(1 + life->rise, at) : 0;
        at += life->renewal_every;
    }
    return sum;
}

struct pd_life pd_life_for(const struct pd_scenario *scenario, double energy_cost, double starts,
                           double hours)
{
    const double *value = scenario->value;
    double by_hours = value[PD_COST_PUMP_LIFE_HOURS] / 3600 / hours;
    double by_starts = value[PD_COST_PUMP_LIFE_STARTS] / starts;
    // fmin passes over what is not a number: a life without end, or a pump that never runs
    double every = fmin(by_hours, by_starts);

    return (struct pd_life){
        .purchase = value[PD_COST_PUMP] + value[PD_COST_TANK] + value[PD_COST_FITTING],
        .yearly = energy_cost + value[PD_COST_MAINTENANCE],
        .renewal = value[PD_COST_PUMP],
        .renewal_every = every > 0 ? every : (double)INFINITY,
        .years = value[PD_COST_YEARS],
        .rise = value[PD_COST_PRICE_RISE],
        .rate = value[PD_COST_DISCOUNT_RATE],
    };
}

bool pd_life_is_told(const struct pd_scenario *scenario)
{
    for (enum pd_item item = PD_COST_PUMP; item <= PD_COST_DISCOUNT_RATE; item++) {
        if (scenario->given[item]) {
            return true;
        }
    }
    return false;
}

void pd_lives_of_days(const struct pd_scenario *scenario, const struct pd_days *days,
                      size_t strategy, struct pd_life lives[PD_LIVES])
{
    struct pd_range energy = pd_days_mean(days, strategy, PD_FIGURE_COST);
    double starts = days_in_year * pd_days_mean(days, strategy, PD_FIGURE_STARTS).middle;
    double hours = days_in_year * pd_days_mean(days, strategy, PD_FIGURE_RUN_TIME).middle / 3600;
    const double day[PD_LIVES] = {energy.low, energy.middle, energy.high};

    for (size_t i = 0; i < PD_LIVES; i++) {
        lives[i] = pd_life_for(scenario, days_in_year * day[i], starts, hours);
    }
}

struct pd_range pd_life_of_days(const struct pd_scenario *scenario, const struct pd_days *days,
                                size_t strategy)
{
    struct pd_life lives[PD_LIVES];

    pd_lives_of_days(scenario, days, strategy, lives);
    return (struct pd_range){pd_life_cost(&lives[0]), pd_life_cost(&lives[1]),
                             pd_life_cost(&lives[2])};
}
