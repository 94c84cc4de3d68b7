/* Chooses the scripts that fit a folder, has them run, and puts their pictures in place. */
#include "output/plot.h"

#include "base/text.h"
#include "output/gnuplot.h"
#include "output/plot_beside.h"

#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <fnmatch.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAMES_MOST = 128, LINE_MOST = 256, HEAD_LINES = 20 };

/* Names of the files of a folder, sorted. */
struct names {
    size_t count;
    char name[NAMES_MOST][PD_PICTURE_NAME_MOST];
};

/* A folder while its charts are made. */
struct work {
    const char *folder;
    char scripts[PD_PATH_MOST]; /* absolute */
    char aside[PD_PATH_MOST];   /* folder in which the pictures are made */
    char out[PD_PATH_MOST];     /* the same seen from the folder, with a slash at its end */
    struct names files;
    size_t other_count; /* folders beside this one that share its axes */
    bool svg_only;
    bool gnuplot_missing;
};

static const char log_name[] = "log.txt";

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

static bool has_ending(const char *name, const char *ending)
{
    size_t length = strlen(name);
    size_t more = strlen(ending);

    return length > more && strcmp(name + length - more, ending) == 0;
}

/* Names that end as asked; hidden ones, and what is beyond the list's room, are passed over. */
static bool list_names(struct names *names, const char *folder, const char *ending)
{
    DIR *entries = opendir(folder);

    names->count = 0;
    if (entries == NULL) {
        return false;
    }
    for (const struct dirent *entry; (entry = readdir(entries)) != NULL;) {
        const char *name = entry->d_name;
        bool fits = strlen(name) < PD_PICTURE_NAME_MOST && names->count < NAMES_MOST;
        if (name[0] != '.' && has_ending(name, ending) && fits) {
            memcpy(names->name[names->count++], name, strlen(name) + 1);
        }
    }
    (void)closedir(entries);
    qsort(names->name, names->count, sizeof names->name[0], by_name);
    return true;
}

static bool has_name(const struct names *names, const char *name)
{
    for (size_t i = 0; i < names->count; i++) {
        if (strcmp(names->name[i], name) == 0) {
            return true;
        }
    }
    return false;
}

/* Whether a list of words, spaces between them, has one. */
static bool has_word(const char *words, const char *word)
{
    size_t length = strlen(word);

    for (const char *at = words; (at = strstr(at, word)) != NULL; at += length) {
        bool begins = at == words || isspace((unsigned char)at[-1]);
        if (begins && (at[length] == '\0' || isspace((unsigned char)at[length]))) {
            return true;
        }
    }
    return false;
}

/* Copies the words after `# key:` of a script's first lines; false if there is no such line. */
static bool read_mark(const char *script, const char *key, char words[LINE_MOST])
{
    char line[LINE_MOST];
    FILE *stream = fopen(script, "r");
    size_t length = strlen(key);
    bool found = false;

    if (stream == NULL) {
        return false;
    }
    for (int i = 0; !found && i < HEAD_LINES && fgets(line, sizeof line, stream) != NULL; i++) {
        found = strncmp(line, "# ", 2) == 0 && strncmp(line + 2, key, length) == 0 &&
                line[2 + length] == ':';
        if (found) {
            memcpy(words, line + 3 + length, strlen(line + 3 + length) + 1);
        }
    }
    (void)fclose(stream);
    return found;
}

static bool run_script(struct work *work, const char *script, const char *file,
                       struct pd_error *error)
{
    char log[PD_PATH_MOST];
    struct gnuplot_run run = {.folder = work->folder,
                              .scripts = work->scripts,
                              .script = script,
                              .out = work->out,
                              .file = file,
                              .log = log,
                              .other_count = work->other_count,
                              .svg_only = work->svg_only};

    // `out` ends with the slash
    int length = snprintf(log, sizeof log, "%s%s", work->out, log_name);
    return length > 0 && length < PD_PATH_MOST &&
           gnuplot_run_script(&run, &work->gnuplot_missing, error);
}

static bool has_all(const struct work *work, char words[LINE_MOST])
{
    char *rest = NULL;

    for (char *at = strtok_r(words, " \t\r\n", &rest); at != NULL;
         at = strtok_r(NULL, " \t\r\n", &rest)) {
        if (!has_name(&work->files, at)) {
            return false;
        }
    }
    return true;
}

/* gnuplot knows no cell of several lines: a file with one is not drawn, and stops no other. */
static bool has_broken_rows(const struct work *work, const char *name)
{
    char path[PD_PATH_MOST];
    FILE *stream = pd_text_path(path, PD_PATH_MOST, work->folder, name) ? fopen(path, "r") : NULL;
    bool broken = stream == NULL;
    bool quoted = false;

    for (int c; !broken && (c = getc(stream)) != EOF;) {
        quoted = quoted != (c == '"');
        broken = quoted && c == '\n';
    }
    if (stream != NULL) {
        (void)fclose(stream);
    }
    return broken;
}

static bool run_for_each(struct work *work, const char *script, char words[LINE_MOST],
                         struct pd_error *error)
{
    char *rest = NULL;
    const char *pattern = strtok_r(words, " \t\r\n", &rest);
    char but[LINE_MOST] = "";
    char file[PD_PICTURE_NAME_MOST + 2];

    (void)read_mark(script, "but", but);

    for (size_t i = 0; pattern != NULL && i < work->files.count; i++) {
        // whatever a name begins with, behind `./` gnuplot takes it for that of a file
        (void)snprintf(file, sizeof file, "./%s", work->files.name[i]);
        bool fits = fnmatch(pattern, file + 2, 0) == 0 && !has_word(but, file + 2) &&
                    !has_broken_rows(work, file);
        if (fits && !run_script(work, script, file, error)) {
            return false;
        }
    }
    return true;
}

/* Runs a script as often as it fits the folder: not at all, once, or for each of some files. */
static bool use_script(struct work *work, const char *name, struct pd_error *error)
{
    char script[PD_PATH_MOST];
    char words[LINE_MOST];

    if (!pd_text_path(script, PD_PATH_MOST, work->scripts, name)) {
        return pd_error_set(error, PD_OUTPUT_FAILED, work->scripts, 0, NULL,
                            "the path is too long");
    }
    if (read_mark(script, "needs", words)) {
        return !has_all(work, words) || run_script(work, script, NULL, error);
    }
    return !read_mark(script, "each", words) || run_for_each(work, script, words, error);
}

static bool use_scripts(struct work *work, struct pd_error *error)
{
    struct names scripts;

    if (!list_names(&scripts, work->scripts, ".gp")) {
        return pd_error_output(error, work->scripts, "read the scripts of the charts");
    }
    for (size_t i = 0; i < scripts.count; i++) {
        if (!use_script(work, scripts.name[i], error)) {
            return false;
        }
    }
    return true;
}

static bool is_picture(const char *name)
{
    return has_ending(name, ".svg") || has_ending(name, ".png");
}

/* Moves the pictures into the folder and notes their names. */
static bool keep_pictures(const struct work *work, struct pd_pictures *pictures,
                          struct pd_error *error)
{
    struct names made;
    char from[PD_PATH_MOST];
    char to[PD_PATH_MOST];

    if (!list_names(&made, work->aside, "")) {
        return pd_error_output(error, work->aside, "read");
    }
    for (size_t i = 0; i < made.count; i++) {
        if (!is_picture(made.name[i])) {
            continue;
        }
        if (!pd_text_path(from, PD_PATH_MOST, work->aside, made.name[i]) ||
            !pd_text_path(to, PD_PATH_MOST, work->folder, made.name[i]) || rename(from, to) != 0) {
            return pd_error_output(error, work->folder, "put a picture in its place");
        }
        memcpy(pictures->name[pictures->count++], made.name[i], PD_PICTURE_NAME_MOST);
    }
    // a script may look into a file and find that it is not for it
    return pictures->count > 0 ||
           pd_error_set(error, PD_BAD_INPUT, work->folder, 0, NULL,
                        "no files that a chart is made from; write them with "
                        "`pumpday compare SCENARIO -o FOLDER` or `pumpday sweep`");
}

static void remove_aside(const struct work *work)
{
    struct names left;
    char path[PD_PATH_MOST];

    if (list_names(&left, work->aside, "")) {
        for (size_t i = 0; i < left.count; i++) {
            if (pd_text_path(path, PD_PATH_MOST, work->aside, left.name[i])) {
                (void)unlink(path);
            }
        }
    }
    (void)rmdir(work->aside);
}

static bool find_scripts(struct work *work, const char *scripts, struct pd_error *error)
{
    if (!plot_make_absolute(work->scripts, scripts)) {
        return pd_error_output(error, scripts, "find the scripts of the charts");
    }
    return strchr(work->scripts, ':') == NULL ||
           pd_error_set(error, PD_OUTPUT_FAILED, work->scripts, 0, NULL,
                        "gnuplot finds no scripts in a folder with a colon in its path");
}

static bool is_same_folder(const char *a, const char *b)
{
    struct stat about_a;
    struct stat about_b;

    return stat(a, &about_a) == 0 && stat(b, &about_b) == 0 && about_a.st_dev == about_b.st_dev &&
           about_a.st_ino == about_b.st_ino;
}

/* gnuplot looks for what a script loads where the files are first: what comes along with somebody's
 * results must not be run in place of the scripts that were chosen. */
static bool has_no_scripts(const struct work *work, struct pd_error *error)
{
    struct names found;

    return is_same_folder(work->folder, work->scripts) ||
           !list_names(&found, work->folder, ".gp") || found.count == 0 ||
           pd_error_set(error, PD_BAD_INPUT, work->folder, 0, NULL,
                        "holds a script of gnuplot, %s, which could be run in place of the "
                        "program's own: move it away, or choose the folder by --scripts",
                        found.name[0]);
}

/* Finds what is in the folder and makes the one aside. */
static bool begin(struct work *work, const char *scripts, struct pd_error *error)
{
    if (!find_scripts(work, scripts, error)) {
        return false;
    }
    if (!list_names(&work->files, work->folder, ".csv")) {
        return pd_error_set(error, PD_BAD_INPUT, work->folder, 0, NULL,
                            "cannot read the folder: %s", strerror(errno));
    }
    if (!has_no_scripts(work, error)) {
        return false;
    }
    if (!pd_text_path(work->aside, PD_PATH_MOST, work->folder, ".plot-XXXXXX") ||
        mkdtemp(work->aside) == NULL) {
        return pd_error_output(error, work->folder, "write into the folder");
    }
    (void)snprintf(work->out, sizeof work->out, "%s/", strrchr(work->aside, '/') + 1);
    return true;
}

bool pd_plot_beside(const char *folder, const char *const *others, size_t count,
                    const char *scripts, bool svg_only, struct pd_pictures *pictures,
                    struct pd_error *error)
{
    struct work work = {.folder = folder, .svg_only = svg_only, .other_count = count};

    memset(pictures, 0, sizeof *pictures);
    if (!begin(&work, scripts, error)) {
        return false;
    }
    bool good = plot_link_others(folder, others, count, work.aside, error) &&
                use_scripts(&work, error) && keep_pictures(&work, pictures, error);
    pictures->gnuplot_missing = work.gnuplot_missing;
    remove_aside(&work);
    return good;
}

bool pd_plot(const char *folder, const char *scripts, bool svg_only, struct pd_pictures *pictures,
             struct pd_error *error)
{
    return pd_plot_beside(folder, NULL, 0, scripts, svg_only, pictures, error);
}
