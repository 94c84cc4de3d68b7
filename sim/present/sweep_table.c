/* Lays out the table of a sweep from its file, so that rows of an earlier run are shown like those
 * of this one.  Assumes a file that a sweep wrote: rows without line breaks, columns by name. */
#include "present/sweep_table.h"

#include "base/text.h"
#include "output/columns.h"
#include "present/sweep_lines.h"

#include <pumpday/compare.h>
#include <pumpday/sweep.h>

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CELL_MOST = 32, SHORT_TABLE = 36 };
enum {
    STRATEGY,
    STARTS,
    WORST_HOUR,
    SHORTEST_RUN,
    LOWEST_TAP,
    ENERGY,
    VERDICT,
    REASON,
    TIME_LOW, /* looked at, not shown */
    PICKED
};

/* Columns shown behind the varied ones, by the names of the file. */
static const struct shown {
    const char *name, *title;
    int width; /* negative: at the left */
} shown[PICKED] = {
    [STRATEGY] = {"strategy", "strategy", -16},
    [STARTS] = {"starts", "starts", 8},
    [WORST_HOUR] = {"starts_in_worst_hour", "worst hour", 12},
    [SHORTEST_RUN] = {"shortest_run", "shortest run", 14},
    [LOWEST_TAP] = {"lowest_tap_pressure", "lowest tap", 12},
    [ENERGY] = {"energy", "energy", 9},
    [VERDICT] = {"verdict", "verdict", 0},
    [REASON] = {"reason", "", 0},
    [TIME_LOW] = {"time_below_tap_limit", "", 0},
};

/* The best and the worst row of a strategy, and how many others start as seldom as the best. */
struct extremes {
    struct pd_sweep_line best, worst;
    size_t as_seldom;
    bool has_any;
};

struct view {
    FILE *in, *out;
    struct pd_sweep_line head;
    size_t varied_count;
    size_t place[PICKED];
    size_t days, good, dipping, failed;
    bool no_memory; /* for a line; then nothing is told */
    struct extremes extremes[PD_STRATEGIES_MOST];
};

/* True if a head is of a column of this name, with a unit behind it or not. */
static bool is_head(const char *head, const char *name)
{
    size_t length = strlen(name);

    return strncmp(head, name, length) == 0 && (head[length] == '\0' || head[length] == ' ');
}

/* The summary's columns stand behind the varied ones: a varied item of the same name is not taken
 * for one of them. */
static bool find_columns(struct view *view)
{
    for (size_t i = 0; i < PICKED; i++) {
        size_t place = view->varied_count;
        while (place < view->head.count && !is_head(view->head.field[place], shown[i].name)) {
            place++;
        }
        if (place >= view->head.count) {
            return false;
        }
        view->place[i] = place;
    }
    return true;
}

static const char *text_of(const struct view *view, const struct pd_sweep_line *line, size_t picked)
{
    return view->place[picked] < line->count ? line->field[view->place[picked]] : "";
}

static double number_of(const struct view *view, const struct pd_sweep_line *line, size_t picked)
{
    double number = NAN;

    return pd_text_number(text_of(view, line, picked), &number, NULL) == PD_NUMBER_GOOD
               ? number
               : (double)NAN;
}

/* Width of a varied column: its name, or a value. */
static int varied_width(const struct view *view, size_t i)
{
    int width = (int)strcspn(view->head.field[i], " ");

    return width < CELL_MOST / 2 ? CELL_MOST / 2 : width;
}

static void write_cell(const struct view *view, const char *text, int width)
{
    char cell[CELL_MOST];
    double number;

    // what is a number is shown to four digits; a count has no more
    pd_text_show(cell, sizeof cell, text[0] == '\0' ? "-" : text);
    if (pd_text_number(text, &number, NULL) == PD_NUMBER_GOOD) {
        (void)snprintf(cell, sizeof cell, "%.*g", number >= 1e4 ? 6 : 4, number);
    }
    (void)fprintf(view->out, "%*s", width, cell);
}

/* The part of a head within the brackets, with them; "" if it has none. */
static const char *unit_of(const char *head)
{
    const char *unit = strchr(head, '[');

    return unit != NULL ? unit : "";
}

static void write_heads(const struct view *view)
{
    for (size_t i = 0; i < view->varied_count; i++) {
        const char *head = view->head.field[i];
        (void)fprintf(view->out, "  %-*.*s", varied_width(view, i), (int)strcspn(head, " "), head);
    }
    (void)fputs("  ", view->out);
    for (size_t i = 0; i < REASON; i++) {
        (void)fprintf(view->out, "%s%*s", i == VERDICT ? "  " : "", shown[i].width, shown[i].title);
    }
    (void)fputc('\n', view->out);
    for (size_t i = 0; i < view->varied_count; i++) {
        (void)fprintf(view->out, "  %-*s", varied_width(view, i), unit_of(view->head.field[i]));
    }
    (void)fputs("  ", view->out);
    for (size_t i = 0; i < VERDICT; i++) {
        (void)fprintf(view->out, "%*s", shown[i].width, unit_of(view->head.field[view->place[i]]));
    }
    (void)fputc('\n', view->out);
}

static bool is_good(const struct view *view, const struct pd_sweep_line *line)
{
    const char *verdict = text_of(view, line, VERDICT);

    return strncmp(verdict, "ok", 2) == 0 && (verdict[2] == '\0' || verdict[2] == ';');
}

/* A day may pass although its taps fall below their limit for a moment. */
static bool dips(const struct view *view, const struct pd_sweep_line *line)
{
    return is_good(view, line) && number_of(view, line, TIME_LOW) > 0;
}

static void write_row(const struct view *view, const struct pd_sweep_line *line)
{
    const char *reason = text_of(view, line, REASON);

    for (size_t i = 0; i < view->varied_count; i++) {
        (void)fputs("  ", view->out);
        write_cell(view, line->field[i], -varied_width(view, i));
    }
    (void)fputs("  ", view->out);
    write_cell(view, text_of(view, line, STRATEGY), shown[STRATEGY].width);
    if (reason[0] != '\0') {
        (void)fputs("failed: ", view->out);
        pd_text_put(view->out, reason);
        (void)fputc('\n', view->out);
        return;
    }
    for (size_t i = STARTS; i < VERDICT; i++) {
        write_cell(view, text_of(view, line, i), shown[i].width);
    }
    (void)fputs("  ", view->out);
    pd_text_put(view->out, text_of(view, line, VERDICT));
    (void)fprintf(view->out, "%s\n", dips(view, line) ? ", taps dip" : "");
}

/* Fewer starts in the worst hour are better; where they are the same, less energy. */
static bool has_less(const struct view *view, const struct pd_sweep_line *a,
                     const struct pd_sweep_line *b)
{
    double starts = number_of(view, a, WORST_HOUR) - number_of(view, b, WORST_HOUR);

    return starts < 0 || (starts == 0 && number_of(view, a, ENERGY) < number_of(view, b, ENERGY));
}

/* Days that pass with taps at or above their limit come first, then those that dip, then faults. */
static int rank(const struct view *view, const struct pd_sweep_line *line)
{
    if (!is_good(view, line)) {
        return 2;
    }
    return dips(view, line) ? 1 : 0;
}

static bool is_better(const struct view *view, const struct pd_sweep_line *a,
                      const struct pd_sweep_line *b)
{
    int difference = rank(view, a) - rank(view, b);

    return difference != 0 ? difference < 0 : has_less(view, a, b);
}

/* Takes a row as the best so far where it is, and counts those that are as good but for energy. */
static bool note_best(const struct view *view, struct extremes *extremes,
                      const struct pd_sweep_line *line)
{
    bool better = !extremes->has_any || is_better(view, line, &extremes->best);
    bool even = extremes->has_any && rank(view, line) == rank(view, &extremes->best) &&
                number_of(view, line, WORST_HOUR) == number_of(view, &extremes->best, WORST_HOUR);

    extremes->as_seldom = even ? extremes->as_seldom + 1 : better ? 0 : extremes->as_seldom;
    return !better || pd_sweep_line_copy(&extremes->best, line);
}

static void note_extremes(struct view *view, const struct pd_sweep_line *line)
{
    size_t which = 0;

    while (which < pd_strategy_count &&
           strcmp(pd_strategies[which]->name, text_of(view, line, STRATEGY)) != 0) {
        which++;
    }
    if (which == pd_strategy_count) {
        return;
    }
    struct extremes *extremes = &view->extremes[which];
    bool good = note_best(view, extremes, line);
    if (!extremes->has_any || has_less(view, &extremes->worst, line)) {
        good = pd_sweep_line_copy(&extremes->worst, line) && good;
    }
    extremes->has_any = extremes->best.text != NULL && extremes->worst.text != NULL;
    view->no_memory = view->no_memory || !good;
}

/* Counts all rows and finds the extremes; or writes them. */
static void go_through(struct view *view, bool write)
{
    struct pd_sweep_line line = {.text = NULL};

    while (pd_sweep_line_read(view->in, &line)) {
        if (line.count <= view->varied_count) {
            continue;
        }
        if (write) {
            write_row(view, &line);
            continue;
        }
        bool failed = text_of(view, &line, REASON)[0] != '\0';
        view->days++;
        view->failed += failed ? 1 : 0;
        view->good += is_good(view, &line) ? 1 : 0;
        view->dipping += dips(view, &line) ? 1 : 0;
        if (!failed) {
            note_extremes(view, &line);
        }
    }
    // a line for which there was no memory is not the end
    view->no_memory = view->no_memory || feof(view->in) == 0;
    free(line.text);
}

/* The name of a varied item that nobody chooses: it is found on site, or belongs to the model; NULL
 * where all are chosen. */
static const char *not_chosen(const struct view *view, char name[CELL_MOST])
{
    for (size_t i = 0; i < view->varied_count; i++) {
        const char *head = view->head.field[i];
        (void)snprintf(name, CELL_MOST, "%.*s", (int)strcspn(head, " "), head);
        if (!pd_item_is_chosen(pd_item_find(name))) {
            return name;
        }
    }
    return NULL;
}

static void write_best(const struct view *view)
{
    bool any = false;

    for (size_t i = 0; i < pd_strategy_count; i++) {
        const struct extremes *extremes = &view->extremes[i];
        if (!extremes->has_any || !is_good(view, &extremes->best)) {
            continue;
        }
        any = true;
        write_row(view, &extremes->best);
        if (extremes->as_seldom > 0) {
            (void)fprintf(view->out, "    %zu other%s as seldom in the worst hour\n",
                          extremes->as_seldom, extremes->as_seldom == 1 ? " starts" : "s start");
        }
    }
    if (!any) {
        (void)fputs("  none passes\n", view->out);
    }
}

static void write_extremes(const struct view *view)
{
    char name[CELL_MOST];

    if (not_chosen(view, name) != NULL) {
        (void)fprintf(view->out, "no best: %s is found, not chosen\n", name);
    } else {
        (void)fputs("best: passing, first without a dip of the taps; then fewest starts in the "
                    "worst hour, least energy\n",
                    view->out);
        write_best(view);
    }
    (void)fputs("worst: most starts in the worst hour, then most energy\n", view->out);
    for (size_t i = 0; i < pd_strategy_count; i++) {
        if (view->extremes[i].has_any) {
            write_row(view, &view->extremes[i].worst);
        }
    }
}

static bool write_table(struct view *view)
{
    struct pd_sweep_line *head = &view->head;

    if (!pd_sweep_line_read(view->in, head) || head->count <= view->varied_count ||
        !find_columns(view)) {
        return false;
    }
    go_through(view, false);
    if (view->no_memory) {
        return false;
    }
    write_heads(view);
    if (view->days <= SHORT_TABLE) {
        struct pd_sweep_line skipped = {.text = NULL};
        rewind(view->in);
        (void)pd_sweep_line_read(view->in, &skipped);
        free(skipped.text);
        go_through(view, true);
    } else {
        write_extremes(view);
    }
    (void)fprintf(view->out, "\n%zu day%s: %zu pass, %zu with faults, %zu failed\n", view->days,
                  view->days == 1 ? "" : "s", view->good, view->days - view->good - view->failed,
                  view->failed);
    if (view->dipping > 0) {
        (void)fprintf(view->out,
                      "taps dip (%zu day%s): they pass since the taps are below their limit for "
                      "no more than %.4g %% of the\n  time that any is open\n",
                      view->dipping, view->dipping == 1 ? "" : "s", 100 * PD_LOW_TAP_SHARE);
    }
    return ferror(view->in) == 0 && !view->no_memory;
}

bool pd_sweep_table_write(FILE *stream, const char *file, size_t varied_count,
                          struct pd_error *error)
{
    struct view view = {.in = fopen(file, "r"), .out = stream, .varied_count = varied_count};

    if (view.in == NULL) {
        return pd_error_set(error, PD_OUTPUT_FAILED, file, 0, NULL, "cannot read: %s",
                            strerror(errno));
    }
    bool good = write_table(&view);
    (void)fclose(view.in);
    free(view.head.text);
    for (size_t i = 0; i < pd_strategy_count; i++) {
        free(view.extremes[i].best.text);
        free(view.extremes[i].worst.text);
    }
    return good ||
           pd_error_set(error, PD_OUTPUT_FAILED, file, 0, NULL, "cannot read: %s",
                        view.no_memory ? "not enough memory" : "it is no longer what was written");
}
