/* Result files, whole or not at all: written aside in the same folder, checked, then renamed.
 * Assumes that a rename within one folder is atomic, as POSIX has it. */
#include "output/outputs.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Makes one folder of a path if it is not there; remembers the first one made. */
static bool make_part(struct pd_outputs *outputs, size_t length, struct pd_error *error)
{
    char part[PD_PATH_MOST];
    struct stat about;

    memcpy(part, outputs->folder, length);
    part[length] = '\0';
    if (mkdir(part, 0777) == 0) {
        outputs->made_from = outputs->made_from == 0 ? length : outputs->made_from;
        return true;
    }
    // some systems refuse a folder that exists with another error than EEXIST
    int cause = errno;
    if (stat(part, &about) == 0 && S_ISDIR(about.st_mode)) {
        return true;
    }
    errno = cause == EEXIST ? ENOTDIR : cause;
    return pd_error_output(error, part, "make the folder");
}

static bool make_folder(struct pd_outputs *outputs, struct pd_error *error)
{
    size_t length = strlen(outputs->folder);

    for (size_t i = 1; i <= length; i++) {
        bool end_of_part = outputs->folder[i] == '/' || i == length;
        if (end_of_part && outputs->folder[i - 1] != '/' && !make_part(outputs, i, error)) {
            return false;
        }
    }
    return true;
}

/* Removes the folders made, the innermost first; one that is not empty ends it. */
static void remove_made_folders(struct pd_outputs *outputs)
{
    char part[PD_PATH_MOST];
    size_t length = strlen(outputs->folder);

    if (outputs->made_from == 0) {
        return;
    }
    memcpy(part, outputs->folder, length + 1);
    while (length >= outputs->made_from) {
        part[length] = '\0';
        if (part[length - 1] != '/' && rmdir(part) != 0) {
            return;
        }
        // back to the slash before this part
        do {
            length--;
        } while (length > 0 && part[length] != '/');
        if (length == 0) {
            return;
        }
    }
}

/* Puts folder and name into a path; with an ending into one that no other process uses. */
static bool join(char path[PD_PATH_MOST], const char *folder, const char *name, const char *ending)
{
    int length;

    if (ending == NULL) {
        length = snprintf(path, PD_PATH_MOST, "%s/%s", folder, name);
    } else {
        length =
            snprintf(path, PD_PATH_MOST, "%s/.%s.%ld.%s", folder, name, (long)getpid(), ending);
    }
    return length > 0 && length < PD_PATH_MOST;
}

static bool name_paths(struct pd_output_file *file, const char *folder, const char *name,
                       struct pd_error *error)
{
    if (join(file->target, folder, name, NULL) && join(file->aside, folder, name, "new") &&
        join(file->old, folder, name, "old")) {
        return true;
    }
    return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL,
                        "the path of the folder for results is too long");
}

/* True if a file may be put there: nothing stands there, or a plain file. */
static bool is_replaceable(const struct pd_output_file *file, struct pd_error *error)
{
    struct stat about;

    // a folder or device of that name cannot be replaced by a file
    if (stat(file->target, &about) == 0 && !S_ISREG(about.st_mode)) {
        return pd_error_set(error, PD_OUTPUT_FAILED, file->target, 0, NULL,
                            "cannot be replaced: it is not a plain file");
    }
    return true;
}

static bool open_aside(struct pd_output_file *file, struct pd_error *error)
{
    if (!is_replaceable(file, error)) {
        return false;
    }
    // one left by a process that was killed is in the way
    (void)unlink(file->aside);
    int descriptor = open(file->aside, O_WRONLY | O_CREAT | O_EXCL, 0666);
    if (descriptor < 0) {
        return pd_error_output(error, file->target, "write");
    }
    file->has_aside = true;
    file->stream = fdopen(descriptor, "w");
    if (file->stream == NULL) {
        (void)close(descriptor);
        return pd_error_output(error, file->target, "write");
    }
    return true;
}

bool pd_outputs_open(struct pd_outputs *outputs, const char *folder, const char *const *names,
                     size_t count, struct pd_error *error)
{
    memset(outputs, 0, sizeof *outputs);
    if (folder[0] == '\0' || strlen(folder) >= sizeof outputs->folder) {
        return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL,
                            "the folder for results needs a name of 1 to %d bytes",
                            PD_PATH_MOST - 1);
    }
    memcpy(outputs->folder, folder, strlen(folder) + 1);
    bool good = make_folder(outputs, error);
    for (size_t i = 0; good && i < count; i++) {
        outputs->count = i + 1;
        good = name_paths(&outputs->file[i], folder, names[i], error) &&
               open_aside(&outputs->file[i], error);
    }
    if (!good) {
        pd_outputs_discard(outputs);
    }
    return good;
}

/* Closes a file and makes sure that all of it was taken. */
static bool close_aside(struct pd_output_file *file, struct pd_error *error)
{
    FILE *stream = file->stream;

    file->stream = NULL;
    bool written = fflush(stream) == 0 && ferror(stream) == 0;
    // pipes and some file systems know no fsync: that is no failure
    if (written && fsync(fileno(stream)) != 0 && errno != EINVAL && errno != ENOTSUP) {
        written = false;
    }
    int cause = errno;
    if (fclose(stream) != 0 && written) {
        return pd_error_output(error, file->target, "write");
    }
    errno = cause;
    return written || pd_error_output(error, file->target, "write");
}

/* Keeps the earlier file under another name until the whole set stands. */
static bool keep_old(struct pd_output_file *file, struct pd_error *error)
{
    (void)unlink(file->old);
    if (!is_replaceable(file, error)) {
        return false;
    }
    // a second link leaves the earlier file in its place all the while; where a file system has
    // none it is moved away instead
    if (link(file->target, file->old) == 0 || rename(file->target, file->old) == 0) {
        file->has_old = true;
        return true;
    }
    return errno == ENOENT || pd_error_output(error, file->target, "replace");
}

static bool put_in_place(struct pd_output_file *file, struct pd_error *error)
{
    if (!keep_old(file, error)) {
        return false;
    }
    if (rename(file->aside, file->target) != 0) {
        return pd_error_output(error, file->target, "replace");
    }
    file->has_aside = false;
    file->in_place = true;
    return true;
}

bool pd_outputs_try(const char *folder, struct pd_error *error)
{
    static const char *const name[] = {"try.csv"};
    struct pd_outputs outputs;

    if (!pd_outputs_open(&outputs, folder, name, 1, error)) {
        return false;
    }
    pd_outputs_discard(&outputs);
    return true;
}

bool pd_outputs_commit(struct pd_outputs *outputs, struct pd_error *error)
{
    bool good = true;

    for (size_t i = 0; good && i < outputs->count; i++) {
        good = close_aside(&outputs->file[i], error);
    }
    for (size_t i = 0; good && i < outputs->count; i++) {
        good = put_in_place(&outputs->file[i], error);
    }
    if (!good) {
        pd_outputs_discard(outputs);
        return false;
    }
    // all stand: the earlier ones may go
    for (size_t i = 0; i < outputs->count; i++) {
        if (outputs->file[i].has_old) {
            (void)unlink(outputs->file[i].old);
        }
    }
    outputs->count = 0;
    return true;
}

/* Puts one file back to what it was. */
static void undo(struct pd_output_file *file)
{
    if (file->stream != NULL) {
        (void)fclose(file->stream);
    }
    if (file->has_aside) {
        (void)unlink(file->aside);
    }
    if (file->has_old) {
        (void)rename(file->old, file->target);
        // a rename between two links to one file does nothing
        (void)unlink(file->old);
    } else if (file->in_place) {
        (void)unlink(file->target);
    }
    memset(file, 0, sizeof *file);
}

void pd_outputs_discard(struct pd_outputs *outputs)
{
    for (size_t i = 0; i < outputs->count; i++) {
        undo(&outputs->file[i]);
    }
    outputs->count = 0;
    remove_made_folders(outputs);
    outputs->made_from = 0;
}
