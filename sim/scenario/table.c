/* Hides libcsv, which gives no positions, drops blank lines silently and lets a quoted cell span
 * lines: so the file is cut into lines here, libcsv gets one line at a time, and a row is over when
 * libcsv says so.  A row with a fault is dropped and the next line starts afresh. */
#include "scenario/table.h"

#include "base/memory.h"
#include "base/text.h"
#include "scenario/path.h"

#include <csv.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

// a day's draws fit in a hundredth of this; more is not a scenario
static const size_t bytes_most = 4U << 20U;
static const size_t cells_most = 64; // of one row

/* A table while its file is read. */
struct reader {
    struct pd_table *table;
    struct pd_faults *faults;
    struct csv_parser parser;
    size_t rows_most;
    int line;      // the line being read
    int row_line;  // the line on which the row began
    bool row_open; // inside a quoted cell that goes on
    bool row_bad;  // this row was told as a fault
    bool out_of_memory;
    bool full; // more rows than may be
};

// room for one more element of a growing array; false if memory runs out
static bool grow(void **array, size_t *room, size_t wanted, size_t size)
{
    if (wanted <= *room) {
        return true;
    }
    size_t more = wanted + wanted / 2 + 16;
    void *bigger = pd_memory_resize(*array, more * size);
    if (bigger == NULL) {
        return false;
    }
    *array = bigger;
    *room = more;
    return true;
}

static bool grow_text(struct pd_table *table, size_t more)
{
    void *text = table->text;
    bool grown = grow(&text, &table->text_room, table->text_size + more, 1);
    table->text = text;
    return grown;
}

static bool grow_cells(struct pd_table *table)
{
    void *cells = table->cells;
    bool grown = grow(&cells, &table->cell_room, table->cell_count + 1, sizeof *table->cells);
    table->cells = cells;
    return grown;
}

static bool grow_rows(struct pd_table *table)
{
    void *rows = table->rows;
    bool grown = grow(&rows, &table->row_room, table->row_count + 1, sizeof *table->rows);
    table->rows = rows;
    return grown;
}

// tells one fault of the row being read, but no second; the row is dropped
static void spoil_row(struct reader *reader, const char *text)
{
    if (!reader->row_bad) {
        pd_faults_add(reader->faults, reader->table->path, reader->row_line, NULL, "%s", text);
    }
    reader->row_bad = true;
    reader->table->damaged = true;
}

// libcsv: a cell has ended
static void take_cell(void *bytes, size_t length, void *data)
{
    struct reader *reader = data;
    struct pd_table *table = reader->table;
    char text[100];
    if (reader->row_bad || reader->out_of_memory) {
        return;
    }
    size_t in_row = table->cell_count - table->rows[table->row_count].first;
    if (length > PD_CELL_MOST) {
        (void)snprintf(text, sizeof text, "a cell is too long, got %zu bytes, expected at most %d",
                       length, PD_CELL_MOST);
        spoil_row(reader, text);
        return;
    }
    if (in_row >= cells_most) {
        (void)snprintf(text, sizeof text, "too many cells in a row, expected at most %zu",
                       cells_most);
        spoil_row(reader, text);
        return;
    }
    if (!grow_text(table, length + 1) || !grow_cells(table)) {
        reader->out_of_memory = true;
        return;
    }
    char *cell = table->text + table->text_size;
    pd_text_trim(cell, length + 1, length > 0 ? bytes : "", length);
    pd_text_unguard(cell);
    table->cells[table->cell_count++] = table->text_size;
    table->text_size += strlen(cell) + 1;
}

// true if a row holds nothing, or a comment that a spreadsheet has put in quotes
static bool is_idle(const struct pd_table *table, const struct pd_table_row *row)
{
    bool empty = true;
    for (size_t i = 0; i < row->count && empty; i++) {
        empty = table->text[table->cells[row->first + i]] == '\0';
    }
    return empty || table->text[table->cells[row->first]] == '#';
}

// forgets the cells of a row that does not count
static void drop_row(struct pd_table *table)
{
    size_t first = table->rows[table->row_count].first;
    if (first < table->cell_count) {
        table->text_size = table->cells[first];
    }
    table->cell_count = first;
}

// libcsv: a row has ended
static void take_row(int ending, void *data)
{
    (void)ending;
    struct reader *reader = data;
    struct pd_table *table = reader->table;
    struct pd_table_row *row = &table->rows[table->row_count];
    char text[100];
    reader->row_open = false;
    if (reader->out_of_memory) {
        return;
    }
    row->count = table->cell_count - row->first;
    if (reader->row_bad || is_idle(table, row)) {
        drop_row(table);
        return;
    }
    // the heads are a row too
    if (table->row_count > reader->rows_most) {
        (void)snprintf(text, sizeof text,
                       "too many rows, expected at most %zu below the column heads",
                       reader->rows_most);
        spoil_row(reader, text);
        reader->full = true;
        return;
    }
    table->row_count++;
}

// one more row to be filled, beginning on this line
static void begin_row(struct reader *reader)
{
    struct pd_table *table = reader->table;
    reader->row_line = reader->line;
    reader->row_bad = false;
    if (!grow_rows(table)) {
        reader->out_of_memory = true;
        return;
    }
    table->rows[table->row_count] =
        (struct pd_table_row){.line = reader->line, .first = table->cell_count};
    reader->row_open = true;
}

static bool parser_begin(struct reader *reader)
{
    if (csv_init(&reader->parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        return false;
    }
    csv_set_realloc_func(&reader->parser, pd_memory_resize);
    // its own small steps would copy a cell of megabytes thousands of times
    csv_set_blk_size(&reader->parser, 1U << 13U);
    return true;
}

// gives one line to libcsv; after an error of its own it only frees
static void feed(struct reader *reader, const char *line, size_t length)
{
    size_t done = csv_parse(&reader->parser, line, length, take_cell, take_row, reader);
    if (done == length) {
        done += csv_parse(&reader->parser, "\n", 1, take_cell, take_row, reader);
    }
    if (done == length + 1) {
        return;
    }
    if (csv_error(&reader->parser) == CSV_EPARSE) {
        spoil_row(reader, "a quote stands inside a cell, expected the whole cell in quotes and "
                          "quotes inside it doubled");
        drop_row(reader->table);
    } else {
        reader->out_of_memory = true;
    }
    csv_free(&reader->parser);
    reader->row_open = false;
    reader->out_of_memory = !parser_begin(reader) || reader->out_of_memory;
}

// a line that says nothing: blank, or a comment
static bool says_nothing(const char *line, size_t length)
{
    size_t at = 0;
    while (at < length && (line[at] == ' ' || line[at] == '\t')) {
        at++;
    }
    return at == length || line[at] == '#';
}

// cuts the bytes into lines, ended by LF, CR LF or CR, and gives each to libcsv
static void read_lines(struct reader *reader, const char *bytes, size_t size)
{
    size_t at = 0;
    while (at < size && !reader->out_of_memory && !reader->full) {
        size_t end = at;
        while (end < size && bytes[end] != '\n' && bytes[end] != '\r') {
            end++;
        }
        reader->line++;
        bool skip = !reader->row_open && says_nothing(bytes + at, end - at);
        if (!skip && !reader->row_open) {
            begin_row(reader);
        }
        if (!skip && !reader->out_of_memory) {
            feed(reader, bytes + at, end - at);
        }
        at = end + 1;
        at += end + 1 < size && bytes[end] == '\r' && bytes[end + 1] == '\n';
    }
    if (reader->row_open && !reader->out_of_memory) {
        spoil_row(reader, "a quoted cell is left open to the end of the file, expected a closing "
                          "quote");
        drop_row(reader->table);
    }
}

// refuses what is no text file in a form we read
static bool bytes_fit(const char *bytes, size_t size, const char *path, struct pd_faults *faults)
{
    bool wide =
        size >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0);
    if (wide) {
        return pd_faults_add(faults, path, 0, NULL,
                             "the file is UTF-16 text, expected UTF-8: save it as CSV UTF-8");
    }
    const char *zero = size > 0 ? memchr(bytes, '\0', size) : NULL;
    if (zero == NULL) {
        return true;
    }
    int line = 1;
    for (const char *c = bytes; c < zero; c++) {
        line += *c == '\n';
    }
    return pd_faults_add(faults, path, line, NULL, "a zero byte, expected a text file");
}

// the heads tell whether the columns are split by commas
static bool heads_fit(const struct pd_table *table, struct pd_faults *faults)
{
    if (table->row_count == 0) {
        return table->damaged || pd_faults_add(faults, table->path, 0, NULL,
                                               "the file is empty, expected column heads and rows");
    }
    const char *head = pd_table_cell(table, 0, 0);
    if (table->rows[0].count > 1 || strpbrk(head, ";\t") == NULL) {
        return true;
    }
    return pd_faults_add(faults, table->path, table->rows[0].line, NULL,
                         "columns are split by %s, expected commas: save the file as "
                         "comma-separated, with decimal points",
                         strchr(head, ';') != NULL ? "semicolons" : "tabs");
}

static bool parse(struct pd_table *table, size_t rows_most, const char *bytes, size_t size,
                  struct pd_faults *faults)
{
    struct reader reader = {.table = table, .faults = faults, .rows_most = rows_most};
    size_t skip = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    if (!bytes_fit(bytes, size, table->path, faults)) {
        return false;
    }
    reader.out_of_memory = !parser_begin(&reader);
    if (!reader.out_of_memory) {
        read_lines(&reader, bytes + skip, size - skip);
        csv_free(&reader.parser);
    }
    if (reader.out_of_memory) {
        return pd_faults_add(faults, table->path, reader.line, NULL, "memory ran out");
    }
    return heads_fit(table, faults) && table->row_count > 0;
}

// the whole file as bytes; NULL and a fault if that fails
static char *load(const char *path, size_t *size, struct pd_faults *faults)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        pd_faults_add(faults, path, 0, NULL, "cannot be opened: %s", strerror(errno));
        return NULL;
    }
    void *bytes = NULL;
    size_t room = 0;
    size_t got = 1;
    bool good = true;
    *size = 0;
    // one byte over the limit is enough to know
    while (good && got > 0 && *size <= bytes_most) {
        good = grow(&bytes, &room, *size + 4096, 1);
        got = good ? fread((char *)bytes + *size, 1, room - *size, file) : 0;
        *size += got;
    }
    if (!good) {
        pd_faults_add(faults, path, 0, NULL, "memory ran out");
    } else if (ferror(file)) {
        good = pd_faults_add(faults, path, 0, NULL, "cannot be read: %s", strerror(errno));
    } else if (*size > bytes_most) {
        good = pd_faults_add(faults, path, 0, NULL,
                             "the file is too long, expected at most %zu bytes", bytes_most);
    }
    (void)fclose(file);
    if (!good) {
        free(bytes);
        return NULL;
    }
    return bytes;
}

bool pd_table_read(struct pd_table *table, size_t rows_most, struct pd_faults *faults)
{
    switch (pd_presence_of(table->path)) {
    case PD_ABSENT:
        return pd_faults_add(faults, table->path, 0, NULL, "there is no such file");
    case PD_FOLDER:
        return pd_faults_add(faults, table->path, 0, NULL, "is a folder, expected a CSV file");
    case PD_OTHER:
        return pd_faults_add(faults, table->path, 0, NULL, "is not a plain file");
    case PD_FILE:
    case PD_UNKNOWN:
        break;
    }
    size_t size = 0;
    char *bytes = load(table->path, &size, faults);
    if (bytes == NULL) {
        return false;
    }
    bool good = parse(table, rows_most, bytes, size, faults);
    free(bytes);
    return good;
}

const char *pd_table_cell(const struct pd_table *table, size_t row, size_t column)
{
    const struct pd_table_row *place = &table->rows[row];
    return column < place->count ? table->text + table->cells[place->first + column] : "";
}

void pd_table_free(struct pd_table *table)
{
    free(table->rows);
    free(table->cells);
    free(table->text);
    *table = (struct pd_table){.row_count = 0};
}
