/* Hostile input and scarce memory: always a scenario or a fault, never a crash, a hang or a leak
 * (the last is for a run under valgrind or the sanitizers to see). */
#include "scenario/folder.h"

#include "base/memory.h"

#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void suite_hostile(void);

static struct pd_scenario scenario;
static struct pd_faults faults;

// requests for memory that still succeed; negative: all of them
static long requests_left = -1;

// in place of the program's own, see base/memory.h
void *pd_memory_resize(void *block, size_t size)
{
    if (requests_left == 0) {
        return NULL;
    }
    // threads of other tests come here too: it is written only while it counts
    if (requests_left > 0) {
        requests_left--;
    }
    return realloc(block, size > 0 ? size : 1);
}

static void test_memory_runs_out_at_every_request(void)
{
    static struct pd_scenario copy;
    struct folder folder;
    bool good = false;
    long most = 0;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write_text(&folder, "profile.csv", "time,flow [L/h]\n01:00,36\n");
    while (!good && most < 1000) {
        requests_left = most++;
        faults.count = 0;
        good = pd_scenario_read(folder.path, NULL, 0, &scenario, &faults);
        CU_ASSERT_TRUE(good || (faults.count > 0 && scenario.draws == NULL));
        CU_ASSERT_TRUE(good || strstr(faults.list[0].text, "memory ran out") != NULL);
    }
    // the reading asks for memory more than a few times, and ends well with enough of it
    CU_ASSERT_TRUE(good && most > 10);
    for (long left = 0; left < 2; left++) {
        requests_left = left;
        CU_ASSERT_FALSE(pd_scenario_copy(&scenario, &copy));
        CU_ASSERT_TRUE(copy.draws == NULL && copy.profile == NULL);
    }
    requests_left = -1;
    pd_scenario_free(&scenario);
    folder_remove(&folder);
}

// the minimal standard generator of S. Park and K. Miller, Comm. ACM 31 (1988) 1192: same
// everywhere
static unsigned long draw_number(unsigned long *seed)
{
    *seed = (unsigned long)((unsigned long long)*seed * 16807ULL % 2147483647ULL);
    return *seed;
}

/* A file's bytes, with room to grow. */
struct bytes {
    char at[4096];
    size_t size;
};

static void insert(struct bytes *bytes, size_t place, const char *piece)
{
    size_t length = strlen(piece);
    if (bytes->size + length <= sizeof bytes->at) {
        memmove(bytes->at + place + length, bytes->at + place, bytes->size - place);
        memcpy(bytes->at + place, piece, length);
        bytes->size += length;
    }
}

// one change: another byte, a byte less, a piece more, or the rest cut off
static void mutate(struct bytes *bytes, unsigned long *seed)
{
    static const char *const pieces[] = {"\"",  ",",    "\n",   "\r",     "#",  "\"\"", ";",
                                         "nan", "1e99", "-",    "\xFF",   "\t", "[",    "]",
                                         "=",   "0,0",  ",,,,", "\"\n\"", "0",  "none"};
    size_t place = bytes->size > 0 ? draw_number(seed) % bytes->size : 0;
    // nothing to change or take away in an empty file
    switch (bytes->size > 0 ? draw_number(seed) % 8 : 5) {
    case 0:
    case 1:
    case 2:
        bytes->at[place] = (char)(draw_number(seed) % 256);
        break;
    case 3:
        memmove(bytes->at + place, bytes->at + place + 1, bytes->size - place - 1);
        bytes->size--;
        break;
    case 4:
        bytes->size = draw_number(seed) % 16 == 0 ? place : bytes->size;
        break;
    default:
        insert(bytes, place, pieces[draw_number(seed) % (sizeof pieces / sizeof pieces[0])]);
        break;
    }
}

static bool draw_holds(const struct pd_draw *draw, double least_time)
{
    bool timed = draw->duration > 0 && isnan(draw->volume);
    bool measured = draw->volume > 0 && isnan(draw->duration);
    return draw->time >= least_time && draw->time < 86400 && draw->flow > 0 && timed != measured;
}

// what every scenario that was read must hold to, whatever was in its files
static bool holds(const struct pd_scenario *read)
{
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        // only what has no default may be left to be worked out
        bool open = isnan(read->value[i]) && isnan(pd_items[i].fallback);
        if (!open && !isfinite(read->value[i])) {
            return false;
        }
    }
    for (size_t i = 0; i < read->draw_count; i++) {
        if (!draw_holds(&read->draws[i], i > 0 ? read->draws[i - 1].time : 0)) {
            return false;
        }
    }
    bool good = read->pump.count >= 3 && read->pump.flow[0] == 0;
    for (size_t i = 1; i < read->pump.count; i++) {
        good = good && read->pump.flow[i] > read->pump.flow[i - 1] &&
               read->pump.head[i] <= read->pump.head[i - 1];
    }
    return good;
}

static void test_mutations(void)
{
    static const char *const names[] = {"site.csv", "pump.csv", "demand.csv"};
    const char *const texts[] = {folder_site, folder_pump, folder_demand};
    unsigned long seed = 20240229;
    size_t good = 0;
    size_t bad = 0;
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    for (int i = 0; i < 3000; i++) {
        size_t which = (size_t)i % 3;
        struct bytes bytes = {.size = strlen(texts[which])};
        memcpy(bytes.at, texts[which], bytes.size);
        for (unsigned long changes = draw_number(&seed) % 4; changes < 4; changes++) {
            mutate(&bytes, &seed);
        }
        folder_fill(&folder);
        folder_write(&folder, names[which], bytes.at, bytes.size);
        faults.count = 0;
        bool read = pd_scenario_read(folder.path, NULL, 0, &scenario, &faults);
        CU_ASSERT_EQUAL(read, faults.count == 0);
        CU_ASSERT_TRUE(!read || holds(&scenario));
        CU_ASSERT_TRUE(read || scenario.draws == NULL);
        good += read;
        bad += !read;
        pd_scenario_free(&scenario);
    }
    // a loop that only ever fails, or never, would test little
    CU_ASSERT_TRUE(good > 100 && bad > 100);
    folder_remove(&folder);
}

void suite_hostile(void)
{
    CU_pSuite suite = CU_add_suite("hostile", NULL, NULL);
    CU_add_test(suite, "memory runs out at every request", test_memory_runs_out_at_every_request);
    CU_add_test(suite, "mutated files", test_mutations);
}
