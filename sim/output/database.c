/* Hides sqlite3. */
#include "output/database.h"

#include "base/memory.h"
#include "base/text.h"

#include <pumpday/pumpday.h>

#include <math.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

enum { SQL_MOST = 2048, NAMES_MOST = 1024, COLUMNS_MOST = 32, BEFORE_FIGURES = 4 };

// another program may hold the file for so long
static const int patience = 5000; // ms

struct database {
    sqlite3 *file;
    char path[PD_PATH_MOST];
    size_t count;
    char columns[NAMES_MOST]; /* the figures, a comma before each */
    sqlite3_stmt *add;
    sqlite3_int64 run;
};

static bool failed(struct database *database, struct pd_error *error)
{
    char shown[PD_TEXT_MOST / 2];

    pd_text_show(shown, sizeof shown, sqlite3_errmsg(database->file));
    (void)sqlite3_exec(database->file, "ROLLBACK", NULL, NULL, NULL);
    return pd_error_set(error, PD_OUTPUT_FAILED, database->path, 0, "database", "%s", shown);
}

static bool done(struct database *database, const char *sql, struct pd_error *error)
{
    return sqlite3_exec(database->file, sql, NULL, NULL, NULL) == SQLITE_OK ||
           failed(database, error);
}

static bool prepare(struct database *database, const char *sql, sqlite3_stmt **statement,
                    struct pd_error *error)
{
    return sqlite3_prepare_v2(database->file, sql, -1, statement, NULL) == SQLITE_OK ||
           failed(database, error);
}

/* The tables, where they are not there yet.  Names of columns are the program's own. */
static bool make_tables(struct database *database, const char *const *columns,
                        struct pd_error *error)
{
    char sql[SQL_MOST], marks[3 * COLUMNS_MOST + 1] = "";
    size_t length = 0;

    for (size_t i = 0; i < database->count; i++) {
        length += (size_t)snprintf(database->columns + length, sizeof database->columns - length,
                                   ",%s", columns[i]);
        memcpy(marks + 2 * i, ",?", 3);
    }
    (void)snprintf(sql, sizeof sql,
                   "CREATE TABLE IF NOT EXISTS run(id INTEGER PRIMARY KEY, key TEXT UNIQUE, title "
                   "TEXT, seed INTEGER, program TEXT);"
                   "CREATE TABLE IF NOT EXISTS day(run INTEGER REFERENCES run(id), day INTEGER, "
                   "kind TEXT, strategy TEXT%s, faults INTEGER, verdict TEXT, PRIMARY KEY(run, "
                   "day, strategy)) WITHOUT ROWID",
                   database->columns);
    if (!done(database, sql, error)) {
        return false;
    }
    (void)snprintf(sql, sizeof sql,
                   "INSERT OR REPLACE INTO day(run,day,kind,strategy%s,faults,verdict) "
                   "VALUES(?,?,?,?%s,?,?)",
                   database->columns, marks);
    return prepare(database, sql, &database->add, error);
}

struct database *database_open(const char *path, const char *const *columns, size_t count,
                               struct pd_error *error)
{
    struct database *database = pd_memory_resize(NULL, sizeof *database);

    if (database == NULL) {
        (void)pd_error_memory(error);
        return NULL;
    }
    memset(database, 0, sizeof *database);
    database->count = count < COLUMNS_MOST ? count : COLUMNS_MOST;
    (void)snprintf(database->path, sizeof database->path, "%s", path);
    if (sqlite3_open(path, &database->file) != SQLITE_OK) {
        (void)failed(database, error);
        database_close(database);
        return NULL;
    }
    (void)sqlite3_busy_timeout(database->file, patience);
    if (!make_tables(database, columns, error)) {
        database_close(database);
        return NULL;
    }
    return database;
}

void database_close(struct database *database)
{
    if (database != NULL) {
        (void)sqlite3_finalize(database->add);
        (void)sqlite3_close(database->file);
        free(database);
    }
}

/* The id of a run; 0 where there is none of the key. */
static bool find_run(struct database *database, const char *key, struct pd_error *error)
{
    sqlite3_stmt *find;

    if (!prepare(database, "SELECT id FROM run WHERE key = ?", &find, error)) {
        return false;
    }
    (void)sqlite3_bind_text(find, 1, key, -1, SQLITE_TRANSIENT);
    int got = sqlite3_step(find);
    database->run = got == SQLITE_ROW ? sqlite3_column_int64(find, 0) : 0;
    (void)sqlite3_finalize(find);
    return got == SQLITE_ROW || got == SQLITE_DONE || failed(database, error);
}

bool database_run(struct database *database, const char *key, const char *title, uint64_t seed,
                  struct pd_error *error)
{
    sqlite3_stmt *add;

    if (!find_run(database, key, error)) {
        return false;
    }
    if (database->run != 0) {
        return true;
    }
    if (!prepare(database, "INSERT INTO run(key,title,seed,program) VALUES(?,?,?,?)", &add,
                 error)) {
        return false;
    }
    (void)sqlite3_bind_text(add, 1, key, -1, SQLITE_TRANSIENT);
    (void)sqlite3_bind_text(add, 2, title, -1, SQLITE_TRANSIENT);
    (void)sqlite3_bind_int64(add, 3, (sqlite3_int64)seed);
    (void)sqlite3_bind_text(add, 4, "pumpday " PD_VERSION, -1, SQLITE_STATIC);
    int got = sqlite3_step(add);
    (void)sqlite3_finalize(add);
    database->run = sqlite3_last_insert_rowid(database->file);
    return got == SQLITE_DONE || failed(database, error);
}

bool database_begin(struct database *database, struct pd_error *error)
{
    return done(database, "BEGIN IMMEDIATE", error);
}

bool database_add(struct database *database, const struct database_day *day, struct pd_error *error)
{
    sqlite3_stmt *add = database->add;
    int place = BEFORE_FIGURES + 1;

    (void)sqlite3_reset(add);
    (void)sqlite3_bind_int64(add, 1, database->run);
    (void)sqlite3_bind_int64(add, 2, day->day);
    (void)sqlite3_bind_text(add, 3, day->kind, -1, SQLITE_STATIC);
    (void)sqlite3_bind_text(add, 4, day->strategy, -1, SQLITE_TRANSIENT);
    for (size_t i = 0; i < database->count; i++, place++) {
        // sqlite3 keeps what is no number as nothing, which is what it means
        (void)sqlite3_bind_double(add, place, day->figures[i]);
    }
    (void)sqlite3_bind_int64(add, place, day->faults);
    (void)sqlite3_bind_text(add, place + 1, day->verdict, -1, SQLITE_TRANSIENT);
    return sqlite3_step(add) == SQLITE_DONE || failed(database, error);
}

bool database_commit(struct database *database, struct pd_error *error)
{
    return done(database, "COMMIT", error);
}

/* NAN for none; INFINITY for what is no number. */
static double figure_of(sqlite3_stmt *rows, int place)
{
    int type = sqlite3_column_type(rows, place);

    if (type == SQLITE_NULL) {
        return (double)NAN;
    }
    return type == SQLITE_FLOAT || type == SQLITE_INTEGER ? sqlite3_column_double(rows, place)
                                                          : (double)INFINITY;
}

/* A row as it stands there. */
static struct database_day day_of(const struct database *database, sqlite3_stmt *rows,
                                  double figures[COLUMNS_MOST])
{
    int place = 3;

    for (size_t i = 0; i < database->count; i++, place++) {
        figures[i] = figure_of(rows, place);
    }
    return (struct database_day){
        .day = (long)sqlite3_column_int64(rows, 0),
        .kind = (const char *)sqlite3_column_text(rows, 1),
        .strategy = (const char *)sqlite3_column_text(rows, 2),
        .figures = figures,
        .faults = (uint32_t)sqlite3_column_int64(rows, place),
        .verdict = (const char *)sqlite3_column_text(rows, place + 1),
    };
}

bool database_each(struct database *database,
                   bool (*take)(void *context, const struct database_day *day), void *context,
                   struct pd_error *error)
{
    char sql[SQL_MOST];
    double figures[COLUMNS_MOST];
    sqlite3_stmt *rows;
    int got;

    (void)snprintf(sql, sizeof sql,
                   "SELECT day,kind,strategy%s,faults,verdict FROM day WHERE run = ? ORDER BY "
                   "day, strategy",
                   database->columns);
    if (!prepare(database, sql, &rows, error)) {
        return false;
    }
    (void)sqlite3_bind_int64(rows, 1, database->run);
    while ((got = sqlite3_step(rows)) == SQLITE_ROW) {
        struct database_day day = day_of(database, rows, figures);
        if (!take(context, &day)) {
            got = SQLITE_DONE;
            break;
        }
    }
    (void)sqlite3_finalize(rows);
    return got == SQLITE_DONE || failed(database, error);
}
