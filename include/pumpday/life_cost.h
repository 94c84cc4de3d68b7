/* What an installation costs over its life, as present value: the money that today, at interest,
 * would pay for all of it.
 * Source of the form: Europump and Hydraulic Institute, Pump Life Cycle Costs: A Guide to LCC
 * Analysis for Pumping Systems, 2001. */
#ifndef PUMPDAY_LIFE_COST_H
#define PUMPDAY_LIFE_COST_H

#include <pumpday/days.h>

/* Money in any one currency, at today's prices. */
struct pd_life {
    double purchase;      /* paid at the start */
    double yearly;        /* energy, maintenance; paid at the end of each year */
    double renewal;       /* paid each time that the pump's life is over */
    double renewal_every; /* years, > 0; INFINITY: never */
    double years;         /* >= 1, whole */
    double rise;          /* of prices in a year, as a share */
    double rate;          /* interest in a year, as a share, > -1 */
};

/* Present value: purchase + sum of yearly ((1 + rise) / (1 + rate))^y over the years y = 1, 2, ...
 * + the same of the renewals at their times, those of the last day left out. */
double pd_life_cost(const struct pd_life *life);

/* The same of what is paid up to the end of a year alone, 0 the purchase. */
double pd_life_until(const struct pd_life *life, int year);

/* What is paid in a year at its prices, year 0 the purchase; not discounted. */
double pd_life_year(const struct pd_life *life, int year);

/* The life of an installation by its cost.* items, with the cost of a year's energy, starts and
 * hours of running. */
struct pd_life pd_life_for(const struct pd_scenario *scenario, double energy_cost, double starts,
                           double hours);

/* Whether a scenario tells any price but that of energy. */
bool pd_life_is_told(const struct pd_scenario *scenario);

/* Present value for a strategy of many days: of the mean day, between those of the ends of the
 * interval of the mean cost of energy. */
struct pd_range pd_life_of_days(const struct pd_scenario *scenario, const struct pd_days *days,
                                size_t strategy);

/* The three lives between whose present values it lies: at the low end, of the mean day, at the
 * high end. */
enum { PD_LIVES = 3 };
void pd_lives_of_days(const struct pd_scenario *scenario, const struct pd_days *days,
                      size_t strategy, struct pd_life lives[PD_LIVES]);

#endif
