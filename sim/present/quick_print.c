/* The words above the lines of a quick check. */
#include "present/quick_print.h"

#include "output/amount.h"

#include <math.h>

/* SI; NIST SP 811 */
#define PSI 6894.757293168361
#define GPM (3.785411784e-3 / 60)

static void print_amount(const char *before, enum pd_kind kind, enum pd_unit_system units,
                         double si, const char *after)
{
    char text[PD_AMOUNT_MOST];

    pd_amount_text(text, kind, units, si);
    (void)printf("%s%s%s", before, text, after);
}

/* A cycle in a sentence. */
static void print_cycle(const char *which, enum pd_unit_system units,
                        const struct pd_quick_cycle *cycle)
{
    if (!(cycle->starts_per_hour > 0)) {
        return;
    }
    (void)printf("%s ", which);
    print_amount("", PD_KIND_FLOW, units, cycle->draw, ": ");
    print_amount("", PD_KIND_TIME, units, cycle->run_time, " on, ");
    print_amount("", PD_KIND_TIME, units, cycle->rest_time, " off, ");
    print_amount("", PD_KIND_VOLUME, units, cycle->volume, " drawn.\n");
}

static void print_pipe(const struct pd_quick *quick)
{
    enum pd_unit_system units = quick->units;

    if (isnan(quick->pipe_bore)) {
        (void)printf("a wide pipe to the pump");
        return;
    }
    print_amount("a smooth pipe to the pump of ", PD_KIND_BORE, units, quick->pipe_bore, " and ");
    print_amount("", PD_KIND_LENGTH, units, quick->pipe_length, ", fittings of K = 5");
}

/* The start and the precharge, as told or assumed. */
static void print_settings(const struct pd_quick *quick, const struct pd_quick_found *found)
{
    enum pd_unit_system units = quick->units;

    print_amount(";\n  start at ", PD_KIND_PRESSURE, units, found->start_pressure, "");
    if (!isnan(quick->start)) {
        (void)printf(" as told;\n");
    } else {
        print_amount(", ", PD_KIND_PRESSURE, units, 12.5 * PSI, " under the boosted static one;\n");
    }
    print_amount("  precharge ", PD_KIND_PRESSURE, units, found->precharge, "");
    if (!isnan(quick->precharge)) {
        (void)printf(" as told.\n");
    } else {
        print_amount(", ", PD_KIND_PRESSURE, units, 2 * PSI, " under the start pressure.\n");
    }
}

void quick_print(const struct pd_quick *quick, const struct pd_quick_found *found)
{
    enum pd_unit_system units = quick->units;

    (void)printf(
        "assumed: a pump of head H = shutoff - k Q^2 that starts at a pressure and stops ");
    if (!isnan(quick->stop)) {
        (void)printf("at another");
    } else {
        print_amount("7 s after the\n  flow falls under ", PD_KIND_FLOW, units, 0.8 * GPM, "");
    }
    (void)printf(
        ";\n  the gauge at the pump is the taps'; no leak; a tank whose gas warms and cools "
        "with each stroke;\n");
    print_amount("  water of ", PD_KIND_TEMPERATURE, units, 288.15, "; air as at the sea;\n  ");
    print_pipe(quick);
    print_settings(quick, found);
    print_cycle("the worst draw,", units, &found->worst);
    print_cycle("at the draw told,", units, &found->told);
    (void)printf("\n");
}
