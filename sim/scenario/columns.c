/* Matches column heads such as `flow [L/min]` against the columns a file may have. */
#include "scenario/columns.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

enum { HEAD_MOST = 64, SHOWN = 48 };

/* A head taken apart. */
struct head {
    char name[HEAD_MOST];
    char unit[HEAD_MOST];
    bool has_unit;
};

struct pd_place pd_heads_place(const struct pd_heads *heads, struct pd_table *table, size_t row,
                               size_t column, struct pd_faults *faults)
{
    return (struct pd_place){.file = table->path,
                             .line = table->rows[row].line,
                             .item = heads->columns[column].name,
                             .faults = faults,
                             .comma_told = &table->comma_told,
                             .leaning = &table->leaning};
}

// `name [unit]`; false if the brackets do not fit or the texts are too long
static bool split_head(struct head *head, const char *text)
{
    const char *open = strchr(text, '[');
    head->has_unit = open != NULL;
    head->unit[0] = '\0';
    if (open == NULL) {
        return strchr(text, ']') == NULL &&
               pd_text_trim(head->name, sizeof head->name, text, strlen(text));
    }
    const char *close = strchr(open, ']');
    if (close == NULL || close[1] != '\0') {
        return false;
    }
    return pd_text_trim(head->name, sizeof head->name, text, (size_t)(open - text)) &&
           pd_text_trim(head->unit, sizeof head->unit, open + 1, (size_t)(close - open - 1));
}

static size_t find_column(const struct pd_heads *heads, const char *name)
{
    size_t i = 0;
    while (i < heads->count && !pd_text_same(name, heads->columns[i].name)) {
        i++;
    }
    return i;
}

// the columns a file may have, for a message
static void list_columns(const struct pd_heads *heads, char *text, size_t size)
{
    size_t at = 0;
    for (size_t i = 0; i < heads->count && at < size; i++) {
        int wrote =
            snprintf(text + at, size - at, "%s%s", i > 0 ? ", " : "", heads->columns[i].name);
        at += wrote > 0 ? (size_t)wrote : 0;
    }
}

// the unit of a head that was found
static bool head_unit(struct pd_heads *heads, struct pd_table *table, size_t column,
                      const struct head *head, struct pd_faults *faults)
{
    const struct pd_column *wanted = &heads->columns[column];
    struct pd_place place = pd_heads_place(heads, table, 0, column, faults);
    char list[160];
    char shown[SHOWN];
    if (!head->has_unit && (wanted->clock || !pd_kind_needs_unit(wanted->bounds.kind))) {
        return true;
    }
    if (!pd_kind_needs_unit(wanted->bounds.kind)) {
        pd_text_show(shown, sizeof shown, head->unit);
        return pd_faults_add(faults, place.file, place.line, place.item,
                             "a unit in the head of a column of text, got \"%s\", expected none",
                             shown);
    }
    if (!head->has_unit || head->unit[0] == '\0') {
        pd_unit_list(wanted->bounds.kind, list, sizeof list);
        return pd_faults_add(faults, place.file, place.line, place.item,
                             "no unit in the column head, expected %s [%s] or another of %s",
                             wanted->name, wanted->bounds.unit, list);
    }
    heads->unit[column] = pd_quantity_unit(&place, wanted->bounds.kind, head->unit);
    return heads->unit[column] != NULL;
}

// one head of row 0
static bool read_head(struct pd_heads *heads, struct pd_table *table, size_t place,
                      struct pd_faults *faults)
{
    struct head head;
    char shown[SHOWN];
    char list[160] = "";
    const char *text = pd_table_cell(table, 0, place);
    int line = table->rows[0].line;
    pd_text_show(shown, sizeof shown, text);
    // spreadsheets write empty columns at the end; only their cells must be empty too
    if (text[0] == '\0') {
        return true;
    }
    if (!split_head(&head, text)) {
        heads->malformed = true;
        return pd_faults_add(faults, table->path, line, shown,
                             "malformed column head, got \"%s\", expected name [unit]", shown);
    }
    size_t column = find_column(heads, head.name);
    if (column == heads->count) {
        list_columns(heads, list, sizeof list);
        return pd_faults_add(faults, table->path, line, head.name,
                             "unknown column, got \"%s\", expected %s", shown, list);
    }
    if (heads->found[column]) {
        return pd_faults_add(faults, table->path, line, head.name,
                             "this column stands twice, got \"%s\", expected it once", shown);
    }
    heads->found[column] = true;
    heads->place[column] = place;
    return head_unit(heads, table, column, &head, faults);
}

// tells the columns that a file must have and has not
static bool tell_missing(const struct pd_heads *heads, const struct pd_table *table,
                         struct pd_faults *faults)
{
    bool good = true;
    for (size_t i = 0; i < heads->count; i++) {
        const struct pd_column *column = &heads->columns[i];
        if (column->required && !heads->found[i]) {
            bool unit = pd_kind_needs_unit(column->bounds.kind) && !column->clock;
            good =
                pd_faults_add(faults, table->path, table->rows[0].line, column->name,
                              "this column is missing, expected %s%s%s%s", column->name,
                              unit ? " [" : "", unit ? column->bounds.unit : "", unit ? "]" : "");
        }
    }
    return good;
}

bool pd_heads_read(struct pd_heads *heads, const struct pd_column *columns, size_t count,
                   struct pd_table *table, struct pd_faults *faults)
{
    bool good = true;
    *heads = (struct pd_heads){.columns = columns, .count = count};
    for (size_t i = 0; i < table->rows[0].count; i++) {
        good = read_head(heads, table, i, faults) && good;
    }
    // a head that cannot be taken apart may be the one that is missing
    return (heads->malformed || tell_missing(heads, table, faults)) && good;
}

bool pd_heads_row_fits(const struct pd_table *table, size_t row, struct pd_faults *faults)
{
    char shown[SHOWN];
    for (size_t i = 0; i < table->rows[row].count; i++) {
        const char *cell = pd_table_cell(table, row, i);
        if (cell[0] != '\0' && pd_table_cell(table, 0, i)[0] == '\0') {
            pd_text_show(shown, sizeof shown, cell);
            return pd_faults_add(faults, table->path, table->rows[row].line, NULL,
                                 "a cell without a column head, got \"%s\", expected %zu cells; "
                                 "text with commas belongs in quotes, numbers take decimal points",
                                 shown, table->rows[0].count);
        }
    }
    return true;
}

const char *pd_heads_text(const struct pd_heads *heads, const struct pd_table *table, size_t row,
                          size_t column)
{
    return heads->found[column] ? pd_table_cell(table, row, heads->place[column]) : "";
}

bool pd_heads_number(const struct pd_heads *heads, struct pd_table *table, size_t row,
                     size_t column, double *si, struct pd_faults *faults)
{
    const struct pd_column *wanted = &heads->columns[column];
    const struct pd_unit *unit = heads->unit[column];
    const char *text = pd_heads_text(heads, table, row, column);
    struct pd_place place = pd_heads_place(heads, table, row, column, faults);
    char shown[SHOWN];
    // a time of day without a unit in its head
    if (wanted->clock && unit == NULL) {
        pd_text_show(shown, sizeof shown, text);
        if (!pd_text_clock(text, si)) {
            return pd_faults_add(faults, place.file, place.line, place.item,
                                 "not a time of day, got \"%s\", expected HH:MM or HH:MM:SS",
                                 shown);
        }
    } else {
        if (!pd_quantity_number(&place, text, si)) {
            return false;
        }
        *si = unit != NULL ? pd_unit_to_si(unit, *si) : *si;
    }
    return pd_quantity_within(&place, &wanted->bounds, *si, text);
}

const char *pd_row_text(const struct pd_row *row, size_t column)
{
    return pd_heads_text(row->heads, row->table, row->number, column);
}

bool pd_row_wrong(const struct pd_row *row, size_t column, const char *what, const char *expected)
{
    char shown[SHOWN];
    pd_text_show(shown, sizeof shown, pd_row_text(row, column));
    return pd_faults_add(row->faults, row->table->path, row->table->rows[row->number].line,
                         row->heads->columns[column].name, "%s%sgot \"%s\", expected %s",
                         what != NULL ? what : "", what != NULL ? ", " : "", shown, expected);
}
