#include "present/limits_text.h"

#include "output/amount.h"

#include <math.h>
#include <string.h>

/* a longer one stands on a line of its own */
enum { SOURCE_BESIDE = 50 };

/* "at most 15 starts in an hour (source)". */
static void write_starts(FILE *stream, const char *few, const char *many, double starts,
                         const char *period, const char *source)
{
    if (isfinite(starts)) {
        (void)fprintf(stream, "%s%.4g", few, starts);
    } else {
        (void)fputs(many, stream);
    }
    (void)fprintf(stream, "%s%s(%s),\n  ", period, strlen(source) > SOURCE_BESIDE ? "\n    " : " ",
                  source);
}

void pd_limits_write(FILE *stream, const char *head, const struct pd_limits *limits,
                     enum pd_unit_system units)
{
    char amount[PD_AMOUNT_MOST];

    (void)fprintf(stream, "%s: ", head);
    write_starts(stream, "at most ", "any number of", limits->starts_per_hour, " starts in an hour",
                 limits->starts_source);
    write_starts(stream, "", "any number", limits->starts_per_day, " in the day",
                 limits->day_source);
    if (isfinite(limits->shortest_run)) {
        (void)fprintf(stream, "no run under %.4g s, ", limits->shortest_run);
    } else {
        (void)fputs("runs of any length, ", stream);
    }
    pd_amount_text(amount, PD_KIND_PRESSURE, units, limits->static_pressure);
    (void)fprintf(stream, "header %s %s,\n  ", isfinite(limits->static_pressure) ? "up to" : "at",
                  isfinite(limits->static_pressure) ? amount : "any pressure");
    pd_amount_text(amount, PD_KIND_PRESSURE, units, limits->tap_pressure);
    (void)fprintf(stream, "taps at least %s for %.4g %% of the time a tap is open\n", amount,
                  100 * (1 - PD_LOW_TAP_SHARE));
}
