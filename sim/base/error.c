/* Fills and prints errors.  Texts are cut to their fields, never overrun. */
#include <pumpday/error.h>

#include "base/text.h"

#include <errno.h>

#include <stdarg.h>
#include <string.h>

static void copy(char *to, size_t size, const char *from)
{
    size_t length = from != NULL ? strlen(from) : 0;
    length = length < size ? length : size - 1;
    if (length > 0) {
        memcpy(to, from, length);
    }
    to[length] = '\0';
}

__attribute__((format(printf, 6, 0))) static void fill(struct pd_error *error, enum pd_code code,
                                                       const char *file, int line, const char *item,
                                                       const char *format, va_list values)
{
    error->code = code;
    error->line = line;
    copy(error->file, sizeof error->file, file);
    copy(error->item, sizeof error->item, item);
    if (vsnprintf(error->text, sizeof error->text, format, values) < 0) {
        error->text[0] = '\0';
    }
}

bool pd_error_set(struct pd_error *error, enum pd_code code, const char *file, int line,
                  const char *item, const char *format, ...)
{
    // the deepest function that knows the position has spoken already
    if (error->code != PD_DONE) {
        return false;
    }
    va_list values;
    va_start(values, format);
    fill(error, code, file, line, item, format, values);
    va_end(values);
    return false;
}

void pd_error_print(FILE *stream, const struct pd_error *error)
{
    if (error->file[0] != '\0') {
        pd_text_put(stream, error->file);
        (void)fputc(':', stream);
        if (error->line > 0) {
            (void)fprintf(stream, "%d:", error->line);
        }
        (void)fputc(' ', stream);
    }
    if (error->item[0] != '\0') {
        pd_text_put(stream, error->item);
        (void)fputs(": ", stream);
    }
    pd_text_put(stream, error->text);
    (void)fputc('\n', stream);
}

bool pd_faults_add(struct pd_faults *faults, const char *file, int line, const char *item,
                   const char *format, ...)
{
    size_t place = faults->count++;
    if (place >= PD_FAULTS_MOST) {
        return false;
    }
    va_list values;
    va_start(values, format);
    fill(&faults->list[place], PD_BAD_INPUT, file, line, item, format, values);
    va_end(values);
    return false;
}

void pd_faults_print(FILE *stream, const struct pd_faults *faults)
{
    size_t kept = faults->count < PD_FAULTS_MOST ? faults->count : PD_FAULTS_MOST;
    for (size_t i = 0; i < kept; i++) {
        pd_error_print(stream, &faults->list[i]);
    }
    if (faults->count > kept) {
        (void)fprintf(stream, "and %zu more\n", faults->count - kept);
    }
}

bool pd_error_memory(struct pd_error *error)
{
    return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory");
}

bool pd_error_output(struct pd_error *error, const char *path, const char *what)
{
    return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "cannot %s: %s", what,
                        strerror(errno));
}
