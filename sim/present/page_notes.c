/* What a reader must know beside the figures: by what the days were judged, what the model assumes
 * and leaves out, and the cautions. */
#include "present/page_parts.h"

#include "output/html.h"

#include <math.h>
#include <string.h>

/* A word that the page cannot do without, explained once. */
struct entry {
    const char *word, *meaning;
};

void page_glossary(FILE *stream)
{
    static const struct entry entries[] = {
        {"Precharge", "the pressure of the gas in the empty tank. Set a little under the pressure "
                      "at which the pump starts, it lets the tank give most water between two "
                      "starts."},
        {"Header", "the pipe behind the pump, with the tank on it. The controller sees its "
                   "pressure."},
        {"Suction", "the side of the pump at which the water comes in. Too low a pressure there "
                    "harms the pump, and the supply it draws from."},
        {"Run-on",
         "how long the pump goes on after the taps have shut, so that it fills the tank."},
        {"Short-cycling", "starting too often or running too briefly. It heats the motor and wears "
                          "out switch, pump and tank."},
    };

    (void)fputs("<section>\n<h2>Five words</h2>\n<dl>\n", stream);
    for (size_t i = 0; i < sizeof entries / sizeof entries[0]; i++) {
        (void)fprintf(stream, "<dt>%s</dt><dd>%s</dd>\n", entries[i].word, entries[i].meaning);
    }
    (void)fputs("</dl>\n</section>\n", stream);
}

/* An own limit has no source but the wish for it. */
static const char *source_for_client(const char *source)
{
    return strncmp(source, "limit.", 6) == 0 ? "asked for here" : source;
}

static void write_starts(FILE *stream, const char *period, double most, const char *source)
{
    if (isfinite(most)) {
        (void)fputs("<li>", stream);
        html_format(stream, "At most %.4g starts %s (%s).", most, period,
                    source_for_client(source));
        (void)fputs("</li>\n", stream);
    }
}

/* A limit that nobody sets is left out. */
static void write_limit(FILE *stream, const struct page *page, const char *before,
                        enum pd_kind kind, double limit, const char *after)
{
    char text[PAGE_TEXT_MOST];

    if (isfinite(limit)) {
        (void)fputs("<li>", stream);
        html_format(stream, "%s %s%s.", before, page_quantity(text, page, kind, limit), after);
        (void)fputs("</li>\n", stream);
    }
}

void page_limits(FILE *stream, const struct page *page)
{
    const struct pd_limits *limits = page->limits;

    (void)fputs("<section>\n<h2>How it was judged</h2>\n<ul>\n", stream);
    write_starts(stream, "within any hour", limits->starts_per_hour, limits->starts_source);
    write_starts(stream, "in the day", limits->starts_per_day, limits->day_source);
    write_limit(stream, page, "No run of the pump under", PD_KIND_TIME, limits->shortest_run, "");
    write_limit(stream, page, "Behind the pump no more than", PD_KIND_PRESSURE,
                limits->static_pressure, "");
    write_limit(stream, page, "At an open tap no less than", PD_KIND_PRESSURE, limits->tap_pressure,
                ", but for moments");
    (void)fputs("</ul>\n<p>What the makers of motor, pump and tank say goes before all of "
                "these.</p>\n</section>\n",
                stream);
}

void page_assumptions(FILE *stream)
{
    (void)fputs(
        "<section>\n<h2>Assumptions and limits</h2>\n"
        "<p>The figures come from integrating the motion of the water, the pump's speed and the "
        "tank's gas through one day that repeats itself, and so depend on what was put in: the "
        "draws of the day, the pump's data, the supply.</p>\n<ul>\n"
        "<li>Pressure waves are left out: no water hammer, and no peak when a valve shuts "
        "fast.</li>\n"
        "<li>All taps stand at one height behind one house pipe.</li>\n"
        "<li>Sensors read the true pressure and flow at once.</li>\n"
        "<li>One pump at fixed speed; no wear, no lost tank gas, no heating of the motor.</li>\n"
        "<li>Cavitation is told where it threatens, but weakens the pump only once the water boils "
        "at its inlet.</li>\n"
        "<li>The same taps open at the same times, whatever their pressure: where it is lower a "
        "shower gives less water, and a cistern fills longer.</li>\n"
        "<li>Energy includes the controller's standby. What is told of 365 such days is this day "
        "so many times, not a year with its seasons.</li>\n"
        "</ul>\n<p>Nothing replaces measuring the installation itself.</p>\n</section>\n",
        stream);
}

void page_cautions(FILE *stream)
{
    (void)fputs(
        "<section class=\"cautions\">\n<h2>Cautions</h2>\n<ul>\n"
        "<li>A pressure tank is a pressure vessel. Set its precharge only with its water side "
        "drained to zero and the pump isolated, and never beyond the rating of the tank.</li>\n"
        "<li>Mains electricity near water kills: leave electrical work to those licensed for "
        "it.</li>\n"
        "<li>Pumps, warming water or a failed switch can exceed ratings: fit relief wherever they "
        "can.</li>\n"
        "<li>Boosting from a public main may need permission and can draw the main down; back-flow "
        "protection keeps it clean.</li>\n"
        "<li>Local codes and licensed practice decide, not this report.</li>\n"
        "</ul>\n</section>\n",
        stream);
}
