/* The list of checks.  The first check arranges for the page to be written when the program ends,
 * into the file that the variable EVIDENCE names. */
#include "evidence/evidence.h"

#include <CUnit/CUnit.h>
#include <CUnit/TestRun.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CHECKS_MOST = 2000, WHAT_MOST = 160, CELL_MOST = 320, COLUMNS = 9 };

enum relation { EQUAL, AT_MOST, AT_LEAST };

struct check {
    enum evidence_part part;
    enum relation relation;
    char what[WHAT_MOST];
    const struct evidence_source *source;
    double published, ours, tolerance;
    const char *unit;
    bool passed;
};

static struct check checks[CHECKS_MOST];
static size_t check_count;
static enum evidence_part current;

static const char *const titles[EVIDENCE_PARTS] = {
    [EVIDENCE_WATER] = "Water and air",
    [EVIDENCE_PIPES] = "Friction, pipes and their parts",
    [EVIDENCE_LEAKS] = "Leaks and the give of pipe walls",
    [EVIDENCE_PUMP] = "Pump",
    [EVIDENCE_TANK] = "Tank",
    [EVIDENCE_GAS] = "Gas that exchanges heat, by the simulator's own rates",
    [EVIDENCE_SWITCH] = "Two-pressure switch with a steady draw, through whole days",
    [EVIDENCE_SIZING] = "Public sizing methods, through whole days",
    [EVIDENCE_DEMAND] = "Demand: days of the usual household",
    [EVIDENCE_PROPERTIES] = "What must always hold, on random installations",
    [EVIDENCE_PRACTICE] = "Facts of the trade, on scenarios/hillside-house",
};

/* What a reader must know of how a part was checked. */
static const char *const notes[EVIDENCE_PARTS] = {
    [EVIDENCE_GAS] =
        "A given flow drives the rates that the day integrates; one check is a whole day.",
    [EVIDENCE_SWITCH] =
        "Days of 24 h by the program's own controller, valve, pump and tank. The closed forms know "
        "no losses\nand a draw that does not heed the pressure: pipes are wide, the motor is at "
        "speed in a millisecond, the\nhouse pipe is stiff, and the taps stand 100 km below the "
        "pump, so that their flow moves by less than\n0.01 %. A constant-flow pump is a line of "
        "10^9 Pa at no flow.",
    [EVIDENCE_SIZING] = "The same days, with a tank as each method sizes it.",
    [EVIDENCE_PROPERTIES] =
        "A thousand days of a thousand installations drawn from a fixed seed: mains, cisterns, "
        "wells; all gas\nlaws; leaks, worn valves, guards; switches by flow and by pressure; each "
        "strategy in turn. `published`\nis how many may break the property, `ours` how many did. "
        "Surge margin: flow x sqrt(inertance / compliance),\nthe flow being the most that supply "
        "and pump can push into a header at no pressure.",
};

static const char *const heads[COLUMNS] = {"what", "source",     "published", "ours",  "unit",
                                           "flag", "difference", "tolerance", "passed"};

const char *evidence_text(const char *format, ...)
{
    static char text[WHAT_MOST];
    va_list arguments;

    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    return text;
}

void evidence_part(enum evidence_part part)
{
    current = part;
}

static void flag_text(unsigned flags, char *text, size_t size)
{
    (void)snprintf(text, size, "%s%s%s%s", flags & EVIDENCE_FROM_MEMORY ? "value from memory" : "",
                   flags == (EVIDENCE_FROM_MEMORY | EVIDENCE_COMPUTED) ? ", " : "",
                   flags & EVIDENCE_COMPUTED ? "computed from the published formula" : "",
                   flags & EVIDENCE_UNSOURCED ? "common practice, no source" : "");
}

/* One cell of a row of the page. */
static void cell_text(const struct check *check, int column, char text[CELL_MOST])
{
    static const char *const relations[] = {"", "<= ", ">= "};

    switch (column) {
    case 0:
        (void)snprintf(text, CELL_MOST, "%s", check->what);
        break;
    case 1:
        (void)snprintf(text, CELL_MOST, "%s", check->source->work);
        break;
    case 2:
        (void)snprintf(text, CELL_MOST, "%s%.9g", relations[check->relation], check->published);
        break;
    case 3:
        (void)snprintf(text, CELL_MOST, "%.7g", check->ours);
        break;
    case 4:
        (void)snprintf(text, CELL_MOST, "%s", check->unit);
        break;
    case 5:
        flag_text(check->source->flags, text, CELL_MOST);
        break;
    case 6:
        (void)snprintf(text, CELL_MOST, "%.2g", check->ours - check->published);
        break;
    case 7:
        (void)snprintf(text, CELL_MOST, check->relation == EQUAL ? "%.2g" : "", check->tolerance);
        break;
    default:
        (void)snprintf(text, CELL_MOST, "%s", check->passed ? "yes" : "NO");
        break;
    }
}

static bool is_number(int column)
{
    return column == 2 || column == 3 || column == 6 || column == 7;
}

static void write_cells(FILE *page, char cells[COLUMNS][CELL_MOST], const int *widths)
{
    for (int i = 0; i < COLUMNS; i++) {
        (void)fprintf(page, is_number(i) ? "| %*s " : "| %-*s ", widths[i], cells[i]);
    }
    (void)fputs("|\n", page);
}

/* Heading and rule of a table. */
static void write_head(FILE *page, const int *widths)
{
    char cells[COLUMNS][CELL_MOST];

    for (int i = 0; i < COLUMNS; i++) {
        (void)snprintf(cells[i], CELL_MOST, "%s", heads[i]);
    }
    write_cells(page, cells, widths);
    for (int i = 0; i < COLUMNS; i++) {
        (void)fputc('|', page);
        for (int k = 0; k < widths[i] + 2; k++) {
            (void)fputc(is_number(i) && k == widths[i] + 1 ? ':' : '-', page);
        }
    }
    (void)fputs("|\n", page);
}

/* Widths of the columns over a part's rows; returns how many there are. */
static size_t measure(enum evidence_part part, int widths[COLUMNS])
{
    char cell[CELL_MOST];
    size_t rows = 0;

    for (int i = 0; i < COLUMNS; i++) {
        widths[i] = (int)strlen(heads[i]);
    }
    for (size_t k = 0; k < check_count; k++) {
        rows += checks[k].part == part;
        for (int i = 0; i < COLUMNS && checks[k].part == part; i++) {
            cell_text(&checks[k], i, cell);
            int width = (int)strlen(cell);
            widths[i] = width > widths[i] ? width : widths[i];
        }
    }
    return rows;
}

static void write_row(FILE *page, const struct check *check, const int *widths)
{
    char cells[COLUMNS][CELL_MOST];

    for (int i = 0; i < COLUMNS; i++) {
        cell_text(check, i, cells[i]);
    }
    write_cells(page, cells, widths);
}

static void write_part(FILE *page, enum evidence_part part)
{
    int widths[COLUMNS];
    size_t rows = measure(part, widths);

    if (rows == 0) {
        return;
    }
    (void)fprintf(page, "\n## %s (%zu)\n\n", titles[part], rows);
    if (notes[part] != NULL) {
        (void)fprintf(page, "%s\n\n", notes[part]);
    }
    write_head(page, widths);
    for (size_t k = 0; k < check_count; k++) {
        if (checks[k].part == part) {
            write_row(page, &checks[k], widths);
        }
    }
}

static void write_page(void)
{
    const char *path = getenv("EVIDENCE");
    FILE *page = path != NULL ? fopen(path, "w") : NULL;
    size_t passed = 0;

    if (page == NULL) {
        return;
    }
    for (size_t i = 0; i < check_count; i++) {
        passed += checks[i].passed;
    }
    (void)fprintf(
        page,
        "# pumpday: evidence\n\n%zu checks against the world outside, %zu passed, %zu "
        "failed.\n\n`<=` and `>=` stand where a value must not be passed. A flag tells "
        "where a published\nvalue is from memory, where it was computed from the "
        "published formula (by another program\nor by hand, never by this one), and where "
        "it is common practice without a source.\n",
        check_count, passed, check_count - passed);
    for (int part = 0; part < EVIDENCE_PARTS; part++) {
        write_part(page, (enum evidence_part)part);
    }
    if (fclose(page) != 0) {
        (void)fprintf(stderr, "%s: the page of evidence was not written\n", path);
    }
}

static void record(struct check check, const char *what)
{
    if (check_count == 0) {
        CU_ASSERT_FATAL(atexit(write_page) == 0);
    }
    CU_ASSERT_FATAL(check_count < CHECKS_MOST);
    (void)snprintf(check.what, sizeof check.what, "%s", what);
    check.part = current;
    if (!check.passed) {
        printf("\n    %s: published %.9g, ours %.9g %s ", check.what, check.published, check.ours,
               check.unit);
    }
    checks[check_count++] = check;
    CU_ASSERT_TRUE(check.passed);
}

void evidence_check(const char *what, const struct evidence_source *source, double published,
                    double ours, const char *unit, double tolerance)
{
    bool passed = fabs(ours - published) <= tolerance;

    record((struct check){.relation = EQUAL,
                          .source = source,
                          .published = published,
                          .ours = ours,
                          .tolerance = tolerance,
                          .unit = unit,
                          .passed = passed},
           what);
}

void evidence_at_most(const char *what, const struct evidence_source *source, double published,
                      double ours, const char *unit)
{
    record((struct check){.relation = AT_MOST,
                          .source = source,
                          .published = published,
                          .ours = ours,
                          .unit = unit,
                          .passed = ours <= published},
           what);
}

void evidence_at_least(const char *what, const struct evidence_source *source, double published,
                       double ours, const char *unit)
{
    record((struct check){.relation = AT_LEAST,
                          .source = source,
                          .published = published,
                          .ours = ours,
                          .unit = unit,
                          .passed = ours >= published},
           what);
}
