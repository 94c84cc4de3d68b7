/* The page of several scenarios: one table of all, then each as on a page of its own. */
#include "present/page_parts.h"

#include "output/html.h"
#include "present/several_table.h"

#include <string.h>

enum { TITLE_MOST = 64 };

static void write_cells(FILE *stream, const struct several_row *row, enum pd_unit_system units)
{
    char cells[SEVERAL_CELLS][SEVERAL_CELL_MOST];

    several_cells(row, units, cells);
    (void)fputs("<tr><th scope=\"row\">", stream);
    html_text(stream, row->strategy);
    (void)fputs("</th>", stream);
    for (size_t i = 0; i < SEVERAL_CELLS; i++) {
        (void)fprintf(stream, "<td>%s</td>", cells[i]);
    }
    (void)fprintf(stream, "<td class=\"%s\">", row->good ? "fits" : "fails");
    html_text(stream, row->verdict);
    (void)fputs("</td></tr>\n", stream);
}

static void write_group(FILE *stream, const char *name, const char *behind)
{
    (void)fprintf(stream, "<tr><th scope=\"rowgroup\" colspan=\"%d\">", SEVERAL_CELLS + 2);
    html_text(stream, name);
    (void)fprintf(stream, "%s</th></tr>\n", behind);
}

static void write_heads(FILE *stream, const struct pd_compared *list, size_t count,
                        enum pd_unit_system units)
{
    struct several_head heads[SEVERAL_CELLS];

    several_heads(heads, list, count, units);
    (void)fputs("<thead><tr><th scope=\"col\">strategy</th>", stream);
    for (size_t i = 0; i < SEVERAL_CELLS; i++) {
        const char *gap = heads[i].name[0][0] != '\0' ? " " : "";
        (void)fprintf(stream, "<th scope=\"col\">%s%s%s", heads[i].name[0], gap, heads[i].name[1]);
        if (heads[i].unit[0] != '\0') {
            (void)fputs(" [", stream);
            html_text(stream, heads[i].unit);
            (void)fputc(']', stream);
        }
        (void)fputs("</th>", stream);
    }
    (void)fputs("<th scope=\"col\">verdict</th></tr></thead>\n", stream);
}

static void write_scenario_rows(FILE *stream, const struct page *page,
                                const struct pd_compared *compared, bool weighted)
{
    char behind[PAGE_TEXT_MOST] = "";
    const char *many = page->many != NULL ? " (one day; many of its household below)" : "";

    if (weighted) {
        (void)snprintf(behind, sizeof behind, ", %d day%s%s", compared->weight,
                       compared->weight > 1 ? "s" : "", many);
    } else {
        (void)snprintf(behind, sizeof behind, "%s", many);
    }
    write_group(stream, compared->scenario->title, behind);
    for (size_t i = 0; i < compared->comparison.count; i++) {
        struct several_row row = several_row_of(compared, i);
        write_cells(stream, &row, page->units);
    }
}

static void write_rows(FILE *stream, const struct page *pages, const struct pd_compared *list,
                       size_t count)
{
    bool weighted = several_weighted(list, count);

    (void)fputs("<tbody>\n", stream);
    for (size_t i = 0; i < count; i++) {
        write_scenario_rows(stream, &pages[i], &list[i], weighted);
    }
    write_group(stream, weighted ? "all together, so many days each" : "all together, a day each",
                ": sums, and the worst of any");
    for (size_t i = 0; i < list[0].comparison.count; i++) {
        char verdict[PD_VERDICT_MOST];
        struct several_row row = several_row_all(list, count, i, verdict);
        write_cells(stream, &row, pages[0].units);
    }
    (void)fputs("</tbody>\n", stream);
}

static void write_overview(FILE *stream, const struct page *pages, const struct pd_compared *list,
                           size_t count)
{
    (void)fputs("<section class=\"whole\">\n<h2>All scenarios</h2>\n<p>Each day is judged by the "
                "limits of its own scenario; what fails, and why, stands with each below.</p>\n"
                "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"All "
                "scenarios\"><table class=\"several\">\n<caption>All scenarios</caption>\n",
                stream);
    write_heads(stream, list, count, pages[0].units);
    write_rows(stream, pages, list, count);
    (void)fputs("</table></div>\n</section>\n", stream);
}

bool page_write_several(FILE *stream, const struct page *pages, const struct pd_compared *list,
                        size_t count, struct pd_error *error)
{
    char title[TITLE_MOST];
    bool good = true;

    (void)snprintf(title, sizeof title, "%zu scenarios compared", count);
    page_head(stream, title);
    (void)fprintf(stream,
                  "<header>\n<h1>%s</h1>\n<p class=\"lead\">Water pressure boosters through a day "
                  "each, simulated under %zu strateg%s</p>\n</header>\n<main>\n",
                  title, pages[0].count, pages[0].count == 1 ? "y" : "ies");
    write_overview(stream, pages, list, count);
    for (size_t i = 0; good && i < count; i++) {
        (void)fputs("<h2 class=\"scenario\">", stream);
        html_text(stream, list[i].scenario->title);
        (void)fputs("</h2>\n", stream);
        good = page_body(stream, &pages[i], error);
        page_limits(stream, &pages[i]);
    }
    page_foot(stream, NULL);
    return good;
}
