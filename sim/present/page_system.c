/* The installation, in a sentence and a table. */
#include "present/page_parts.h"

#include "output/html.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

/* Begins a row of the table: its head, and an open cell. */
static void begin_row(FILE *stream, const char *head)
{
    (void)fprintf(stream, "<tr><th scope=\"row\">%s</th><td>", head);
}

static void end_row(FILE *stream)
{
    (void)fputs("</td></tr>\n", stream);
}

/* A row of one value. */
static void row(FILE *stream, const char *head, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void row(FILE *stream, const char *head, const char *format, ...)
{
    char text[256];
    va_list values;

    va_start(values, format);
    (void)vsnprintf(text, sizeof text, format, values);
    va_end(values);
    begin_row(stream, head);
    html_text(stream, text);
    end_row(stream);
}

static bool is_steady(const struct pd_plant *plant)
{
    return plant->highest_supply - plant->lowest_supply < 1;
}

static const char *supply_name(const struct pd_plant *plant)
{
    switch (plant->supply_kind) {
    case PD_SUPPLY_CISTERN:
        return "a cistern";
    case PD_SUPPLY_WELL:
        return "a well";
    case PD_SUPPLY_MAIN:
        break;
    }
    return "a main";
}

static const char *gas_name(const struct pd_plant *plant)
{
    switch (plant->tank.gas) {
    case PD_GAS_POLYTROPIC:
        return "gas by an exponent (polytropic)";
    case PD_GAS_THERMAL:
        return "gas that exchanges heat with the wall";
    case PD_GAS_ISOTHERMAL:
        break;
    }
    return "gas at one temperature (isothermal)";
}

/* "140 kPa", or from the least to the most of the day. */
static void supply_text(char *text, size_t size, const struct page *page)
{
    char low[PAGE_TEXT_MOST];
    char high[PAGE_TEXT_MOST];
    const struct pd_plant *plant = page->plant;

    (void)page_quantity(low, page, PD_KIND_PRESSURE, plant->lowest_supply);
    (void)page_quantity(high, page, PD_KIND_PRESSURE, plant->highest_supply);
    if (is_steady(plant)) {
        (void)snprintf(text, size, "%s", low);
    } else {
        (void)snprintf(text, size, "%s to %s", low, high);
    }
}

static void write_sentence(FILE *stream, const struct page *page)
{
    const double *value = page->scenario->value;
    char supply[3 * PAGE_TEXT_MOST];
    char length[PAGE_TEXT_MOST];
    char rise[PAGE_TEXT_MOST];
    char tank[PAGE_TEXT_MOST];
    char height[PAGE_TEXT_MOST];
    char times[PAGE_TEXT_MOST];
    double elevation = value[PD_HOUSE_ELEVATION];

    supply_text(supply, sizeof supply, page);
    (void)fputs("<p>", stream);
    html_format(stream,
                "Water from %s at %s flows through %s of pipe, a pump that adds up to %s, and a "
                "check valve to a pressure tank of %s, and from there to taps %s %s the pump",
                supply_name(page->plant), supply,
                page_quantity(length, page, PD_KIND_LENGTH, value[PD_SERVICE_LENGTH]),
                page_quantity(rise, page, PD_KIND_PRESSURE, page->plant->branch[0].pump.shutoff),
                page_quantity(tank, page, PD_KIND_VOLUME, page->plant->tank.volume),
                page_quantity(height, page, PD_KIND_LENGTH, fabs(elevation)),
                elevation < 0 ? "below" : "above");
    if (page->scenario->draw_count > 0) {
        html_format(stream, ", opened %s in the day",
                    page_times(times, page->scenario->draw_count));
    }
    (void)fputs(".</p>\n", stream);
}

static void write_supply_rows(FILE *stream, const struct page *page)
{
    const double *value = page->scenario->value;
    char a[3 * PAGE_TEXT_MOST];
    char b[PAGE_TEXT_MOST];
    char c[PAGE_TEXT_MOST];

    supply_text(a, sizeof a, page);
    row(stream, "Supply", "%s, %s at no flow", supply_name(page->plant) + 2, a);
    row(stream, "Pipe to the pump", "%s, bore %s",
        page_quantity(b, page, PD_KIND_LENGTH, value[PD_SERVICE_LENGTH]),
        page_quantity(c, page, PD_KIND_BORE, value[PD_SERVICE_DIAMETER]));
    if (value[PD_PUMP_HEIGHT] < 0) {
        row(stream, "Pump's inlet", "%s below the tank's gauge",
            page_quantity(b, page, PD_KIND_LENGTH, -value[PD_PUMP_HEIGHT]));
    }
    if (value[PD_RISING_MAIN_LENGTH] > 0) {
        row(stream, "Rising main", "%s from the pump to the tank",
            page_quantity(b, page, PD_KIND_LENGTH, value[PD_RISING_MAIN_LENGTH]));
    }
}

static void write_pump_rows(FILE *stream, const struct page *page)
{
    const double *value = page->scenario->value;
    char a[PAGE_TEXT_MOST];
    char b[PAGE_TEXT_MOST];

    row(stream, "Pump", "adds %s at no flow; largest flow known %s",
        page_quantity(a, page, PD_KIND_PRESSURE, page->plant->branch[0].pump.shutoff),
        page_quantity(b, page, PD_KIND_FLOW, page->plant->branch[0].pump.last_flow));
    if (isfinite(value[PD_PUMP_MOTOR_POWER])) {
        row(stream, "Motor", "%s at the shaft",
            page_quantity(a, page, PD_KIND_POWER, value[PD_PUMP_MOTOR_POWER]));
    }
    row(stream, "Controller", "%s all day",
        page_quantity(a, page, PD_KIND_POWER, page->plant->standby_power));
    row(stream, "Pressure tank", "%s, %s",
        page_quantity(a, page, PD_KIND_VOLUME, page->plant->tank.volume), gas_name(page->plant));
}

static void write_house_rows(FILE *stream, const struct page *page)
{
    const double *value = page->scenario->value;
    char a[PAGE_TEXT_MOST];
    char b[PAGE_TEXT_MOST];

    row(stream, "Taps", "%s above the tank's gauge",
        page_quantity(a, page, PD_KIND_LENGTH, value[PD_HOUSE_ELEVATION]));
    row(stream, "Lost in the house pipe", "%s at %s",
        page_quantity(a, page, PD_KIND_PRESSURE, value[PD_HOUSE_LOSS]),
        page_quantity(b, page, PD_KIND_FLOW, value[PD_HOUSE_LOSS_FLOW]));
    if (value[PD_HOUSE_LEAK] > 0) {
        row(stream, "Leak", "%s at %s", page_quantity(a, page, PD_KIND_FLOW, value[PD_HOUSE_LEAK]),
            page_quantity(b, page, PD_KIND_PRESSURE, value[PD_HOUSE_LEAK_PRESSURE]));
    }
    row(stream, "Demand", "%zu draws in the day%s", page->scenario->draw_count,
        page->scenario->profile_count > 0 ? ", and a flow that steps over the day" : "");
}

/* The item in words: "tank.volume=8 L" as "tank volume: 8 L". */
static void write_set(FILE *stream, const char *set)
{
    const char *value = strchr(set, '=');

    for (const char *at = set; at != value && *at != '\0'; at++) {
        char letter[2] = {*at, '\0'};
        if (*at == '.' || *at == '_') {
            letter[0] = ' ';
        }
        html_text(stream, letter);
    }
    html_format(stream, ": %s", value != NULL ? value + 1 : "");
}

/* What was changed against the files of the scenario must be seen. */
static void write_sets(FILE *stream, const struct page *page)
{
    if (page->set_count == 0) {
        return;
    }
    begin_row(stream, "Set for this report");
    for (size_t i = 0; i < page->set_count; i++) {
        (void)fputs(i > 0 ? "<br>" : "", stream);
        write_set(stream, page->sets[i]);
    }
    end_row(stream);
}

void page_system(FILE *stream, const struct page *page)
{
    const double *value = page->scenario->value;
    char temperature[PAGE_TEXT_MOST];
    char altitude[PAGE_TEXT_MOST];

    (void)fputs("<section>\n<h2>The system</h2>\n", stream);
    write_sentence(stream, page);
    (void)fputs("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"The "
                "installation as simulated\"><table>\n<caption>The installation as simulated"
                "</caption>\n<tbody>\n",
                stream);
    write_supply_rows(stream, page);
    write_pump_rows(stream, page);
    write_house_rows(stream, page);
    row(stream, "Water, site", "%s, %s above the sea",
        page_quantity(temperature, page, PD_KIND_TEMPERATURE, value[PD_WATER_TEMPERATURE]),
        page_quantity(altitude, page, PD_KIND_LENGTH, value[PD_SITE_ALTITUDE]));
    write_sets(stream, page);
    (void)fputs(
        "</tbody>\n</table></div>\n<p class=\"note\">Pressures are gauge, at the height "
        "of the tank's gauge; those at the taps are at the height of the taps.</p>\n</section>\n",
        stream);
}
