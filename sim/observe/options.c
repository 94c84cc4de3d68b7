/* The options of a day, held against their limits before anything is run with them. */
#include <pumpday/day.h>

#include <math.h>

/* Keeps the water balance of every scenario within a fifth of the 1e-4 that it is wanted to; at
 * 1e-5 a day takes a quarter less time and some balances reach 1.6e-4. */
static const double usual_tolerance = 1.0e-6;

/* Less than a second of work.  A busy day takes 20000 steps, the worst of the scenarios 100000. */
static const long usual_most_steps = 1000000;

/* Closer rows than the milliseconds to which their times are written could not be told apart. */
static const double least_every = 1.0e-3; /* s */

struct pd_day_options pd_day_default(void)
{
    return (struct pd_day_options){
        .relative_tolerance = usual_tolerance, .level = NAN, .most_steps = usual_most_steps};
}

/* Written so that what is no number is outside too. */
static bool is_within(const char *name, double value, double least, double most,
                      struct pd_error *error)
{
    return (value >= least && value <= most) ||
           pd_error_set(error, PD_BAD_USAGE, NULL, 0, name,
                        "out of range, got %g, expected %g to %g", value, least, most);
}

static bool trace_fits(const struct pd_day_options *options, struct pd_error *error)
{
    double every = options->trace_every;
    double from = options->trace_from, to = options->trace_to;

    if ((every != 0.0 && !is_within("trace_every", every, least_every, PD_DAY_SECONDS, error)) ||
        !is_within("trace_from", from, 0.0, PD_DAY_SECONDS, error) ||
        !is_within("trace_to", to, 0.0, PD_DAY_SECONDS, error)) {
        return false;
    }
    return to == 0.0 || to >= from ||
           pd_error_set(error, PD_BAD_USAGE, NULL, 0, "trace_to",
                        "before trace_from, got %g, expected 0 or at least %g", to, from);
}

bool pd_day_options_check(const struct pd_day_options *options, struct pd_error *error)
{
    if (options->most_steps < 1) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, "most_steps",
                            "out of range, got %ld, expected at least 1", options->most_steps);
    }
    return is_within("relative_tolerance", options->relative_tolerance, 1.0e-9, 1.0e-3, error) &&
           is_within("until", options->until, 0.0, PD_DAY_SECONDS, error) &&
           trace_fits(options, error);
}
