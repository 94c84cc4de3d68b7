/* The tables of a diagnosis. */
#include "present/diagnose_table.h"

#include "present/diagnose_parts.h"

#include <math.h>

enum { SHOWN_BESIDE = 3 };

/* A misfit that is better by less shows the same figure. */
static const double least_help = 0.05;

/* The misfit of a system as designed. */
static double misfit_as_designed(const struct pd_diagnosis *diagnosis)
{
    size_t i = 0;

    while (i + 1 < PD_SUSPECT_COUNT && diagnosis->suspect[i].kind != PD_SUSPECT_NONE) {
        i++;
    }
    return diagnosis->suspect[i].misfit;
}

/* The sizes of a part: as fitted, if it helps, and as designed. */
static void write_sizes(FILE *stream, const struct pd_part *part, bool helps,
                        enum pd_unit_system units)
{
    char size[CELL_MOST] = "-", designed[CELL_MOST] = "-";

    if (part != NULL) {
        size_text(designed, part->size_kind, units, part->designed);
    }
    if (part != NULL && helps) {
        part_text(size, part, units);
    }
    (void)fprintf(stream, "%19s%16s", size, designed);
}

/* One line a size; the name and the misfit stand on the first. */
static void write_suspect(FILE *stream, const struct pd_suspect *suspect, bool helps,
                          enum pd_unit_system units)
{
    (void)fprintf(stream, "  %-24s", pd_suspect_name(suspect->kind));
    write_sizes(stream, suspect->parts > 0 ? &suspect->part[0] : NULL, helps, units);
    (void)fprintf(stream, "%10.1f%s%s\n", suspect->misfit, suspect_is_out(suspect) ? "  no: " : "",
                  suspect_is_out(suspect) ? pd_signs[suspect->ruled_out_by].name : "");
    for (size_t i = 1; i < suspect->parts; i++) {
        (void)fprintf(stream, "  %-24s", "");
        write_sizes(stream, &suspect->part[i], helps, units);
        (void)fprintf(stream, "\n");
    }
}

static void write_suspects(FILE *stream, const struct pd_diagnosis *diagnosis,
                           enum pd_unit_system units)
{
    double worst = misfit_as_designed(diagnosis);

    (void)fprintf(stream, "  %-24s%19s%16s%10s\n", "suspect", "fitted size", "as designed",
                  "misfit");
    for (size_t i = 0; i < PD_SUSPECT_COUNT; i++) {
        const struct pd_suspect *suspect = &diagnosis->suspect[i];
        // a size that explains no more than the designed one is no size
        if (!suspect->needless) {
            write_suspect(stream, suspect, suspect->misfit < worst - least_help, units);
        }
    }
}

/* What was seen beside what the first few would show. */
static void write_readings(FILE *stream, const struct pd_diagnosis *diagnosis,
                           const struct pd_seen *seen, enum pd_unit_system units)
{
    char text[CELL_MOST];

    (void)fprintf(stream, "\n  %-16s%13s", "reading", "seen");
    for (size_t i = 0; i < SHOWN_BESIDE; i++) {
        (void)fprintf(stream, "  %21s", pd_suspect_name(diagnosis->suspect[i].kind));
    }
    (void)fprintf(stream, "\n");
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        reading_text(text, (enum pd_sign)sign, units, seen->sign[sign]);
        (void)fprintf(stream, "  %-16s%13s", pd_signs[sign].name, text);
        for (size_t i = 0; i < SHOWN_BESIDE; i++) {
            reading_text(text, (enum pd_sign)sign, units, diagnosis->suspect[i].reading[sign]);
            (void)fprintf(stream, "  %21s", text);
        }
        (void)fprintf(stream, "\n");
    }
}

static void write_by_hand(FILE *stream, const struct pd_diagnosis *diagnosis,
                          const struct pd_seen *seen, enum pd_unit_system units)
{
    char leak[CELL_MOST];

    if (!isnan(diagnosis->leak_by_hand)) {
        size_text(leak, PD_KIND_FLOW, units, diagnosis->leak_by_hand);
        (void)fprintf(stream,
                      "  By hand, what the tank gives between the gauges over the time between "
                      "starts: %s,\n  at the mean gauge and with the precharge as %s.\n",
                      leak, isnan(seen->sign[PD_SIGN_PRECHARGE]) ? "designed" : "gauged");
    }
}

static void write_legend(FILE *stream, const struct pd_diagnosis *diagnosis,
                         const struct pd_seen *seen, enum pd_unit_system units)
{
    char leak[CELL_MOST], across[CELL_MOST];
    bool us = units == PD_UNITS_US;

    size_text(leak, PD_KIND_PRESSURE, units, diagnosis->leak_pressure);
    size_text(across, PD_KIND_PRESSURE, units, 1e5);
    (void)fprintf(stream,
                  "\n  misfit: root mean square of what is left, in units of a careful reading's "
                  "uncertainty\n  (times 5 %% + 1 s, volumes 10 %% + %s, gauges %s); up to "
                  "about 1 is a good fit.\n  The leak is told at %s, that of the check valve at "
                  "%s across it.\n",
                  us ? "0.05 gal" : "0.2 L", us ? "1.5 psi" : "0.1 bar", leak, across);
    write_by_hand(stream, diagnosis, seen, units);
}

void pd_diagnosis_write(FILE *stream, const struct pd_diagnosis *diagnosis,
                        const struct pd_seen *seen, enum pd_unit_system units)
{
    char supply[CELL_MOST];

    size_text(supply, PD_KIND_PRESSURE, units, diagnosis->supply);
    (void)fprintf(stream, "%s, supply %s; each suspect's sizes fitted by simulating\n\n",
                  diagnosis->strategy.kind->name, supply);
    write_suspects(stream, diagnosis, units);
    write_legend(stream, diagnosis, seen, units);
    write_readings(stream, diagnosis, seen, units);
    write_next(stream, diagnosis, seen, units);
}
