/* A shell's line, its exit code and its output.  The environment's PUMPDAY tells where the program
 * stands; build/pumpday without. */
#include "cli/program.h"

#include "output/folder.h"
#include "output/text_file.h"

#include <CUnit/CUnit.h>
#include <sys/wait.h>

enum { COMMAND_MOST = 2048 };

static char place[FOLDER_MOST];

static int run_line(const char *line, char text[TEXT_MOST])
{
    char command[COMMAND_MOST];
    const char *program = getenv("PUMPDAY");

    (void)snprintf(command, sizeof command,
                   "P='%s'; T='%s'; S='%s/house'; unset NO_COLOR; { %s; } 2>&1",
                   program != NULL ? program : "build/pumpday", place, place, line);
    FILE *pipe = popen(command, "r");
    CU_ASSERT_PTR_NOT_NULL_FATAL(pipe);
    size_t length = fread(text, 1, TEXT_MOST - 1, pipe);
    text[length] = '\0';
    int status = pclose(pipe);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

bool program_ends(const char *line, int code, const char *words)
{
    static char text[TEXT_MOST];
    int got = run_line(line, text);

    if (got == code && strstr(text, words) != NULL) {
        return true;
    }
    (void)printf("\n      `%s` gave %d, wanted %d and \"%s\":\n%s", line, got, code, words, text);
    return false;
}

void program_begin(void)
{
    folder_make(place);
    CU_ASSERT_FATAL(program_ends("$P new \"$S\"", 0, ""));
}

void program_end(void)
{
    // the test's own folder, of a name that mkdtemp gave
    CU_ASSERT(program_ends("rm -rf \"$T\"", 0, ""));
}
