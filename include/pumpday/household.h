/* A household: what water is used for, how often, how much and when, as chances from which days are
 * drawn.  A draw is a rectangular pulse; draws of a use begin as a Poisson process whose rate
 * changes with the hour, alone or in clusters (Buchberger and Wu, J. Hydr. Eng. 121(3), 1995, for
 * pulses of residential demand). */
#ifndef PUMPDAY_HOUSEHOLD_H
#define PUMPDAY_HOUSEHOLD_H

#include <pumpday/error.h>

#include <stddef.h>
#include <stdint.h>

enum { PD_USES_MOST = 32, PD_FIXTURE_MOST = 32, PD_USE_HOURS = 24 };

/* How flows and sizes of draws are distributed about their mean. */
enum pd_law { PD_LAW_LOGNORMAL, PD_LAW_GAMMA };

/* An end use: a row of household.csv. */
struct pd_use {
    char name[PD_FIXTURE_MOST];
    double draws_per_day;       /* mean, >= 0, on a day of factor 1 */
    double flow;                /* m3/s, mean, at demand.reference_pressure */
    double flow_spread;         /* standard deviation over mean, 0 to 3 */
    double duration;            /* s, mean; or NAN if draws end by volume */
    double volume;              /* m3, mean; or NAN if draws end by duration */
    double spread;              /* of duration or volume, 0 to 5 */
    enum pd_law law;            /* of flow and of duration or volume */
    double weekday, weekend;    /* factors of draws_per_day */
    double day_spread;          /* of a factor of mean 1 that each day draws anew, 0 to 3 */
    double cluster;             /* mean number of draws in a cluster, >= 1; geometric */
    double gap;                 /* s, mean from the end of a draw to the next of its cluster */
    double hours[PD_USE_HOURS]; /* weights of the hours for the begin of a cluster; sum 1 */
};

/* A row of demand.csv: a tap opened at a time, for a duration or until a volume is drawn. */
struct pd_draw {
    double time;     /* s after midnight, 0 <= time < 86400 */
    double flow;     /* m3/s at demand.reference_pressure, > 0 */
    double duration; /* s, or NAN if the draw ends by volume */
    double volume;   /* m3, or NAN if the draw ends by duration */
    char fixture[PD_FIXTURE_MOST];
};

enum { PD_DRAWS_MOST = 20000 }; /* of one day */

/* The draws of a day; owns its list. */
struct pd_draws {
    struct pd_draw *draw; /* by time */
    size_t count, room;
};

/* Days are numbered from 1, a Monday. */
bool pd_day_is_weekend(long day);

/* What is told of a year of 365 days, from day 1, 366, ... on. */
struct pd_calendar {
    double holidays; /* weekdays in it that are lived as a weekend; each is one by chance */
    double away;     /* whole days with nobody at home, 0 to 350, one absence a year by chance */
};

enum pd_day_kind { PD_DAY_WEEKDAY, PD_DAY_WEEKEND, PD_DAY_HOLIDAY, PD_DAY_AWAY, PD_DAY_KIND_COUNT };

/* What a day is: the same for a seed whatever else is asked.  Day 1 is an ordinary Monday.
 * calendar NULL: no holidays, always at home. */
enum pd_day_kind pd_day_kind_of(const struct pd_calendar *calendar, uint64_t seed, long day);

/* "weekday", "weekend", "holiday", "away" */
const char *pd_day_kind_name(enum pd_day_kind kind);

/* Draws the day of a household into *draws, which may hold those of another day, or be zero.  It
 * depends on uses, calendar, seed and day alone.  Figures are round (0.1 s, 0.01 L/min, 0.01 L), so
 * that demand.csv holds them as they are.  What a cluster would begin after midnight begins as long
 * after the midnight before.  False and PD_BAD_INPUT if a day has more than PD_DRAWS_MOST draws,
 * PD_SOLVER_FAILED if memory runs out. */
bool pd_household_day(const struct pd_use *uses, size_t count, const struct pd_calendar *calendar,
                      uint64_t seed, long day, struct pd_draws *draws, struct pd_error *error);

void pd_draws_free(struct pd_draws *draws);

/* Mean volume of a day of factor 1 [m3]. */
double pd_use_volume(const struct pd_use *use);

/* Weights of the hours of a named profile; NULL if there is none of the name. */
const double *pd_hours_find(const char *name);

/* Name of a profile by its place, NULL behind the last. */
const char *pd_hours_name(size_t place);

/* The uses of so many dwellings of so many people each, as fitted to open records; returns their
 * number.  dwellings 1 to 2000, people 0.5 to 20.  See household_usual.c for the figures and their
 * sources. */
size_t pd_household_usual(double dwellings, double people, struct pd_use uses[PD_USES_MOST]);

#endif
