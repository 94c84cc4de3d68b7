/* Cuts the lines of a sweep's file, which has no line break within a field. */
#include "present/sweep_lines.h"

#include "base/memory.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/* Ends a field and takes the quotes off it; returns what follows its comma, NULL at the end. */
static char *end_field(char *from)
{
    char *to = from;
    bool quoted = *from == '"';

    if (!quoted) {
        char *comma = strchr(from, ',');
        if (comma != NULL) {
            *comma++ = '\0';
        }
        return comma;
    }
    // a doubled quote is one, a single one ends the field
    for (from++; *from != '\0' && (*from != '"' || from[1] == '"'); from++) {
        from += *from == '"' ? 1 : 0;
        *to++ = *from;
    }
    from += *from == '"' ? 1 : 0;
    char *next = *from == ',' ? from + 1 : NULL;
    *to = '\0';
    return next;
}

bool pd_sweep_line_read(FILE *stream, struct pd_sweep_line *line)
{
    if (getline(&line->text, &line->size, stream) <= 0) {
        return false;
    }
    line->text[strcspn(line->text, "\r\n")] = '\0';
    line->count = 0;
    for (char *at = line->text; at != NULL && line->count < PD_SWEEP_FIELDS_MOST;) {
        char *field = at;
        at = end_field(field);
        pd_text_unguard(field);
        line->field[line->count++] = field;
    }
    return true;
}

bool pd_sweep_line_copy(struct pd_sweep_line *to, const struct pd_sweep_line *from)
{
    char *text = pd_memory_resize(NULL, from->size);

    if (text == NULL) {
        return false;
    }
    memcpy(text, from->text, from->size);
    free(to->text);
    *to = *from;
    to->text = text;
    for (size_t i = 0; i < to->count; i++) {
        to->field[i] = text + (from->field[i] - from->text);
    }
    return true;
}
