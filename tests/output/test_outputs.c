/* Result files, whole or not at all. */
#include "output/outputs.h"

#include "output/folder.h"
#include "output/text_file.h"

#include <CUnit/CUnit.h>
#include <fcntl.h>
#include <sys/stat.h>

void suite_outputs(void);

static const char *const names[] = {"one.csv", "two.csv"};

/* Opens both files in a folder and writes a word into each. */
static bool begin(struct pd_outputs *outputs, const char *folder, const char *word,
                  struct pd_error *error)
{
    if (!pd_outputs_open(outputs, folder, names, 2, error)) {
        return false;
    }
    for (size_t i = 0; i < 2; i++) {
        (void)fputs(word, outputs->file[i].stream);
    }
    return true;
}

static bool write_both(const char *folder, const char *word)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};

    return begin(&outputs, folder, word, &error) && pd_outputs_commit(&outputs, &error);
}

static bool holds(const char *folder, const char *name, const char *word)
{
    char path[FOLDER_MOST], text[TEXT_MOST];

    return same_text(file_text(folder_path(folder, name, path), text), word);
}

static void nothing_shows_before_the_end(void)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};
    char folder[FOLDER_MOST], path[FOLDER_MOST];

    folder_make(folder);
    CU_ASSERT_FATAL(begin(&outputs, folder, "new", &error));
    CU_ASSERT(access(folder_path(folder, "one.csv", path), F_OK) != 0);
    CU_ASSERT(access(folder_path(folder, "two.csv", path), F_OK) != 0);
    CU_ASSERT(pd_outputs_commit(&outputs, &error));
    CU_ASSERT(holds(folder, "one.csv", "new"));
    CU_ASSERT(holds(folder, "two.csv", "new"));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
    folder_remove(folder);
}

static void earlier_files_are_replaced(void)
{
    char folder[FOLDER_MOST];

    folder_make(folder);
    CU_ASSERT(write_both(folder, "a longer old text"));
    CU_ASSERT(write_both(folder, "new"));
    CU_ASSERT(holds(folder, "one.csv", "new"));
    CU_ASSERT(holds(folder, "two.csv", "new"));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
    folder_remove(folder);
}

static void discarding_leaves_earlier_files(void)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};
    char folder[FOLDER_MOST];

    folder_make(folder);
    CU_ASSERT(write_both(folder, "old"));
    CU_ASSERT_FATAL(begin(&outputs, folder, "new", &error));
    pd_outputs_discard(&outputs);
    CU_ASSERT(holds(folder, "one.csv", "old"));
    CU_ASSERT(holds(folder, "two.csv", "old"));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
    folder_remove(folder);
}

/* The second file cannot be put in place: the first must be what it was. */
static void half_a_commit_is_undone(void)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};
    char folder[FOLDER_MOST], path[FOLDER_MOST];

    folder_make(folder);
    CU_ASSERT(write_both(folder, "old"));
    CU_ASSERT_FATAL(begin(&outputs, folder, "new", &error));
    CU_ASSERT_EQUAL(unlink(folder_path(folder, "two.csv", path)), 0);
    CU_ASSERT_EQUAL(mkdir(path, 0777), 0);
    CU_ASSERT_FALSE(pd_outputs_commit(&outputs, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT(holds(folder, "one.csv", "old"));
    CU_ASSERT_EQUAL(rmdir(path), 0);
    CU_ASSERT_EQUAL(folder_count(folder), 1);
    folder_remove(folder);
}

/* A stream that took less than was written, as on a full disk. */
static void a_write_error_is_told_and_leaves_nothing(void)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};
    char folder[FOLDER_MOST];

    folder_make(folder);
    CU_ASSERT(write_both(folder, "old"));
    CU_ASSERT_FATAL(begin(&outputs, folder, "new", &error));
    int full = open("/dev/full", O_WRONLY);
    CU_ASSERT_FATAL(full >= 0);
    CU_ASSERT(dup2(full, fileno(outputs.file[1].stream)) >= 0);
    (void)close(full);
    CU_ASSERT_FALSE(pd_outputs_commit(&outputs, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.file, "two.csv"));
    CU_ASSERT(holds(folder, "one.csv", "old"));
    CU_ASSERT(holds(folder, "two.csv", "old"));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
    folder_remove(folder);
}

static void folders_are_made_and_unmade(void)
{
    struct pd_outputs outputs;
    struct pd_error error = {.code = PD_DONE};
    char folder[FOLDER_MOST], deep[FOLDER_MOST], inner[FOLDER_MOST];

    folder_make(folder);
    (void)folder_path(folder, "a//b/", deep);
    CU_ASSERT_FATAL(begin(&outputs, deep, "new", &error));
    pd_outputs_discard(&outputs);
    CU_ASSERT_EQUAL(folder_count(folder), 0);
    CU_ASSERT(write_both(deep, "new"));
    CU_ASSERT(holds(deep, "two.csv", "new"));
    folder_remove(deep);
    folder_remove(folder_path(folder, "a", inner));
    folder_remove(folder);
}

static void bad_places_are_told(void)
{
    struct pd_outputs outputs;
    char folder[FOLDER_MOST], file[FOLDER_MOST], below[FOLDER_MOST], path[FOLDER_MOST];
    struct pd_error through_file = {.code = PD_DONE}, no_name = {.code = PD_DONE},
                    not_a_file = {.code = PD_DONE};

    // a file where a folder is wanted
    folder_make(folder);
    CU_ASSERT(write_both(folder, "old"));
    (void)snprintf(below, sizeof below, "%.200s/x", folder_path(folder, "one.csv", file));
    CU_ASSERT_FALSE(pd_outputs_open(&outputs, below, names, 2, &through_file));
    CU_ASSERT_EQUAL(through_file.code, PD_OUTPUT_FAILED);
    CU_ASSERT(same_text(through_file.file, file));
    // no name at all
    CU_ASSERT_FALSE(pd_outputs_open(&outputs, "", names, 2, &no_name));
    CU_ASSERT_EQUAL(no_name.code, PD_OUTPUT_FAILED);
    // a folder where a file is wanted: found before the work, and the first file is not left aside
    CU_ASSERT_EQUAL(unlink(folder_path(folder, "two.csv", path)), 0);
    CU_ASSERT_EQUAL(mkdir(path, 0777), 0);
    CU_ASSERT_FALSE(pd_outputs_open(&outputs, folder, names, 2, &not_a_file));
    CU_ASSERT(same_text(not_a_file.file, path));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
    CU_ASSERT_EQUAL(rmdir(path), 0);
    folder_remove(folder);
}

void suite_outputs(void)
{
    CU_pSuite suite = CU_add_suite("outputs", NULL, NULL);

    CU_ADD_TEST(suite, nothing_shows_before_the_end);
    CU_ADD_TEST(suite, earlier_files_are_replaced);
    CU_ADD_TEST(suite, discarding_leaves_earlier_files);
    CU_ADD_TEST(suite, half_a_commit_is_undone);
    CU_ADD_TEST(suite, a_write_error_is_told_and_leaves_nothing);
    CU_ADD_TEST(suite, folders_are_made_and_unmade);
    CU_ADD_TEST(suite, bad_places_are_told);
}
