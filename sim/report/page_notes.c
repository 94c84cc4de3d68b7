/* What a reader must know beside the figures: by what the days were judged, what the model assumes
 * and leaves out, and the cautions. */
#include "report/page_parts.h"

#include "report/html.h"

void page_limits(FILE *stream, const struct page *page)
{
    const struct pd_limits *limits = page->limits;
    char text[PAGE_TEXT_MOST];

    (void)fputs("<section>\n<h2>How it was judged</h2>\n<ul>\n<li>", stream);
    html_format(stream, "At most %.4g starts within any hour (%s) and %.4g in the day (%s).",
                limits->starts_per_hour, limits->starts_source, limits->starts_per_day,
                limits->day_source);
    (void)fputs("</li>\n<li>", stream);
    html_format(stream, "No run of the pump under %s.",
                page_quantity(text, page, PD_KIND_TIME, limits->shortest_run));
    (void)fputs("</li>\n<li>", stream);
    html_format(stream, "Behind the pump no more than %s.",
                page_quantity(text, page, PD_KIND_PRESSURE, limits->static_pressure));
    (void)fputs("</li>\n<li>", stream);
    html_format(stream, "At an open tap no less than %s, but for moments.",
                page_quantity(text, page, PD_KIND_PRESSURE, limits->tap_pressure));
    (void)fputs("</li>\n</ul>\n<p>What the makers of motor, pump and tank say goes before all of "
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
        "<li>Cavitation is told where it threatens, but does not weaken the pump.</li>\n"
        "<li>The same taps open at the same times, whatever their pressure: where it is lower a "
        "shower gives less water, and a cistern fills longer.</li>\n"
        "<li>Energy includes the controller's standby; a year is 365 days like this one.</li>\n"
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
