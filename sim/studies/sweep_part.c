/* The growing file of a sweep.  Assumes that rows hold no line breaks of their own and that a
 * rename within one folder is atomic, as POSIX has it. */
#include "studies/sweep_part.h"

#include "studies/fingerprint.h"

#include <pumpday/pumpday.h>

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { KEY_MOST = 128 };

static bool name_paths(struct sweep_part *part, const char *file, struct pd_error *error)
{
    int length = snprintf(part->key, PD_PATH_MOST, "%s.part.key", file);

    if (file[0] == '\0' || length >= PD_PATH_MOST) {
        return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL,
                            "the file needs a name of 1 to %d bytes", PD_PATH_MOST - 10);
    }
    (void)snprintf(part->target, PD_PATH_MOST, "%s", file);
    (void)snprintf(part->part, PD_PATH_MOST, "%.*s", length - (int)strlen(".key"), part->key);
    return true;
}

/* A folder or a device of that name cannot be replaced by a file; a name that ends with a stroke
 * is none. */
static bool is_replaceable(const struct sweep_part *part, struct pd_error *error)
{
    struct stat about;
    bool is_folder = part->target[strlen(part->target) - 1] == '/';

    if (is_folder || (stat(part->target, &about) == 0 && !S_ISREG(about.st_mode))) {
        return pd_error_set(error, PD_OUTPUT_FAILED, part->target, 0, NULL,
                            "cannot be replaced: it is not a plain file");
    }
    return true;
}

/* Makes the folders of the path that are not there; what cannot be made shows when the file is
 * opened. */
static void make_folders(const struct sweep_part *part)
{
    char folder[PD_PATH_MOST];

    memcpy(folder, part->part, sizeof folder);
    for (char *at = strchr(folder + 1, '/'); at != NULL; at = strchr(at + 1, '/')) {
        *at = '\0';
        (void)mkdir(folder, 0777);
        *at = '/';
    }
}

/* Two sweeps must not write one file.  Where a file system knows no locks, nothing is locked. */
static bool lock(const struct sweep_part *part, int descriptor, struct pd_error *error)
{
    struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};

    if (fcntl(descriptor, F_SETLK, &whole) != 0 && (errno == EACCES || errno == EAGAIN)) {
        return pd_error_set(error, PD_OUTPUT_FAILED, part->part, 0, NULL,
                            "another sweep is writing it");
    }
    return true;
}

static bool open_stream(struct sweep_part *part, int descriptor, struct pd_error *error)
{
    if (descriptor < 0) {
        return pd_error_output(error, part->part, "write");
    }
    if (!lock(part, descriptor, error)) {
        (void)close(descriptor);
        return false;
    }
    part->stream = fdopen(descriptor, "r+");
    if (part->stream == NULL) {
        (void)close(descriptor);
        return pd_error_output(error, part->part, "write");
    }
    return true;
}

/* The line of the key file. */
static void make_key(const struct sweep_plan *plan, char key[KEY_MOST])
{
    (void)snprintf(key, KEY_MOST, "pumpday %s scenario %016" PRIx64 "\n", PD_VERSION,
                   scenario_fingerprint(plan->scenario));
}

static bool write_key(const struct sweep_part *part, const struct sweep_plan *plan,
                      struct pd_error *error)
{
    char key[KEY_MOST];
    FILE *stream = fopen(part->key, "w");

    make_key(plan, key);
    if (stream == NULL) {
        return pd_error_output(error, part->key, "write");
    }
    bool written = fputs(key, stream) >= 0;
    if (fclose(stream) != 0 || !written) {
        return pd_error_output(error, part->key, "write");
    }
    return true;
}

static bool check_key(const struct sweep_part *part, const struct sweep_plan *plan,
                      struct pd_error *error)
{
    char want[KEY_MOST], got[KEY_MOST] = "";
    FILE *stream = fopen(part->key, "r");

    make_key(plan, want);
    if (stream == NULL) {
        return pd_error_output(error, part->key, "resume: it tells what the part belongs to");
    }
    bool same = fgets(got, sizeof got, stream) != NULL && strcmp(got, want) == 0;
    (void)fclose(stream);
    return same || pd_error_set(error, PD_OUTPUT_FAILED, part->part, 0, NULL,
                                "cannot resume: the part is of another scenario, other --set, or "
                                "another version of the program");
}

/* What a line must be: the whole head, or the first fields of a row. */
struct expected {
    char text[SWEEP_ROW_MOST];
    size_t length;
};

/* False if memory runs out. */
static bool expect(const struct sweep_plan *plan, size_t line, struct expected *expected)
{
    size_t row = line - 1;
    FILE *stream = fmemopen(expected->text, sizeof expected->text, "w");

    if (stream == NULL) {
        return false;
    }
    if (line == 0) {
        sweep_head_write(stream, plan);
    } else {
        sweep_row_begin(stream, plan, row / plan->strategy_count,
                        plan->strategies[row % plan->strategy_count]);
    }
    bool written = fflush(stream) == 0 && ferror(stream) == 0;
    expected->length = written ? (size_t)ftello(stream) : 0;
    (void)fclose(stream);
    return written;
}

static bool no_memory(const struct sweep_part *part, struct pd_error *error)
{
    return pd_error_set(error, PD_OUTPUT_FAILED, part->part, 0, NULL,
                        "cannot resume: not enough memory");
}

/* True if a line is what stands there in this plan; one that was cut may be so far. */
static bool is_expected(const struct sweep_plan *plan, size_t line, const struct expected *expected,
                        const char *text, size_t length)
{
    bool in_plan = line <= plan->combinations * plan->strategy_count;
    bool is_cut = text[length - 1] != '\n';
    // the head has nothing behind it, a row has
    bool fits = is_cut || (line == 0 ? length == expected->length : length > expected->length);
    size_t compared = length < expected->length ? length : expected->length;

    return in_plan && fits && memcmp(text, expected->text, compared) == 0;
}

/* Where a part that is read stands. */
struct reading {
    size_t lines; /* whole ones */
    off_t kept;   /* bytes up to the end of the last whole combination */
};

static bool read_lines(struct sweep_part *part, const struct sweep_plan *plan,
                       struct reading *reading, struct pd_error *error)
{
    char *line = NULL;
    size_t size = 0;
    struct expected expected;
    bool good = true;

    *reading = (struct reading){.lines = 0};
    for (ssize_t length; good && (length = getline(&line, &size, part->stream)) > 0;) {
        if (!expect(plan, reading->lines, &expected)) {
            free(line);
            return no_memory(part, error);
        }
        good = is_expected(plan, reading->lines, &expected, line, (size_t)length);
        if (!good || line[length - 1] != '\n') {
            break;
        }
        if (reading->lines++ % plan->strategy_count == 0) {
            reading->kept = ftello(part->stream);
        }
    }
    free(line);
    if (ferror(part->stream) != 0) {
        return pd_error_output(error, part->part, "read");
    }
    // a line for which there was no memory is not the end
    if (good && feof(part->stream) == 0) {
        return no_memory(part, error);
    }
    return good || pd_error_set(error, PD_OUTPUT_FAILED, part->part, (int)reading->lines + 1, NULL,
                                "cannot resume: this line is not of this sweep; were other items, "
                                "values, strategies or units asked for?");
}

static bool cut_behind(struct sweep_part *part, off_t kept, struct pd_error *error)
{
    // the stream has read ahead: its place is set anew
    if (fseeko(part->stream, kept, SEEK_SET) != 0 || ftruncate(fileno(part->stream), kept) != 0) {
        return pd_error_output(error, part->part, "write");
    }
    return true;
}

static bool write_head(struct sweep_part *part, const struct sweep_plan *plan,
                       struct pd_error *error)
{
    sweep_head_write(part->stream, plan);
    return (fflush(part->stream) == 0 && ferror(part->stream) == 0) ||
           pd_error_output(error, part->part, "write");
}

/* Nothing of an earlier sweep is there. */
static bool begin(struct sweep_part *part, const struct sweep_plan *plan, struct pd_error *error)
{
    int descriptor = open(part->part, O_RDWR | O_CREAT | O_EXCL, 0666);

    if (descriptor < 0 && errno == EEXIST) {
        return pd_error_set(error, PD_OUTPUT_FAILED, part->part, 0, NULL,
                            "left by a sweep that did not end: go on with --resume, or remove it");
    }
    if (!open_stream(part, descriptor, error)) {
        return false;
    }
    if (write_key(part, plan, error) && write_head(part, plan, error)) {
        return true;
    }
    sweep_part_leave(part);
    (void)unlink(part->part);
    (void)unlink(part->key);
    return false;
}

/* Keeps what is whole of an earlier part. */
static bool go_on(struct sweep_part *part, const struct sweep_plan *plan, struct pd_error *error)
{
    struct reading reading;

    bool good = check_key(part, plan, error) && read_lines(part, plan, &reading, error) &&
                cut_behind(part, reading.kept, error);
    if (good && reading.lines > 0) {
        part->combinations = (reading.lines - 1) / plan->strategy_count;
        return true;
    }
    // not even the head was whole
    good = good && write_head(part, plan, error);
    if (!good) {
        sweep_part_leave(part);
    }
    return good;
}

bool sweep_part_open(struct sweep_part *part, const struct sweep_plan *plan, struct pd_error *error)
{
    const struct pd_sweep_options *options = plan->options;

    memset(part, 0, sizeof *part);
    if (!name_paths(part, options->file, error) || !is_replaceable(part, error)) {
        return false;
    }
    make_folders(part);
    int descriptor = options->resume ? open(part->part, O_RDWR) : -1;
    // there is nothing to go on with: a sweep stopped before it began, or done already
    if (!options->resume || (descriptor < 0 && errno == ENOENT)) {
        return begin(part, plan, error);
    }
    return open_stream(part, descriptor, error) && go_on(part, plan, error);
}

bool sweep_part_add(struct sweep_part *part, const char *text, size_t length,
                    struct pd_error *error)
{
    if (fwrite(text, 1, length, part->stream) == length && fflush(part->stream) == 0) {
        return true;
    }
    return pd_error_output(error, part->part, "write");
}

void sweep_part_leave(struct sweep_part *part)
{
    if (part->stream != NULL) {
        (void)fclose(part->stream);
        part->stream = NULL;
    }
}

bool sweep_part_finish(struct sweep_part *part, struct pd_error *error)
{
    FILE *stream = part->stream;

    part->stream = NULL;
    // some file systems know no fsync: that is no failure
    bool written = fflush(stream) == 0 && ferror(stream) == 0 &&
                   (fsync(fileno(stream)) == 0 || errno == EINVAL || errno == ENOTSUP);
    int cause = errno;
    if (fclose(stream) != 0 || !written) {
        errno = written ? errno : cause;
        return pd_error_output(error, part->part, "write");
    }
    if (!is_replaceable(part, error)) {
        return false;
    }
    if (rename(part->part, part->target) != 0) {
        return pd_error_output(error, part->target, "replace");
    }
    (void)unlink(part->key);
    return true;
}
