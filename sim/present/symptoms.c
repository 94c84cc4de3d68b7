/* An entry by symptom.  Causes and their order: common practice, no source. */
#include "present/symptoms.h"

#include <ctype.h>
#include <stddef.h>
#include <string.h>

enum { WORDS_MOST = 12, SAID_MOST = 256 };

struct symptom {
    const char *name;
    const char *word[WORDS_MOST]; /* in small letters; the more of them, the likelier */
    const char *causes, *steps;
};

#define GAUGE_FIRST                                                                                \
    "  1. gauge the precharge: pump off, water side drained to zero, at the tank's air valve\n"    \
    "     (precharge=PRESSURE)\n"

static const struct symptom symptoms[] = {
    {"starts every few minutes, no tap open",
     {"every few", "minute", "night", "by itself", "no tap", "taps shut", "nobody", "too often",
      "cycl"},
     "a leak in the house, a check valve that passes, and more often so with a lost precharge",
     GAUGE_FIRST "  2. all taps shut: time from start to start (between_starts=TIME)\n"
                 "  3. pump off, stop valve to the house shut: does the gauge still fall\n"
                 "     (falls_isolated=yes|no)? yes: the check valve; no: the house\n"
                 "  4. the gauge as it starts and stops (start_gauge, stop_gauge)\n"},
    {"pressure or shower pulses while a tap is open",
     {"puls", "surg", "shower", "up and down", "swing", "hot and cold", "on and off", "flutter"},
     "a precharge lost or too high, a tank too small, a start set too near the stop",
     GAUGE_FIRST
     "  2. a known tap open: the length of a run and of a rest (on, off, draw)\n"
     "  3. all taps shut for 3 minutes: water into a bucket until it starts (drawn=VOLUME)\n"
     "  4. the gauge as it starts and stops (start_gauge, stop_gauge)\n"},
    {"runs and never stops",
     {"never stop", "not stop", "won't stop", "doesn't stop", "runs on", "keeps running",
      "runs all", "all the time"},
     "water that runs more than the stop flow, a check valve that passes, a stop pressure that\n"
     "  the pump cannot reach, a switch that sticks",
     "  1. switch it off by hand if the gauge is over the tank's rated pressure\n"
     "  2. shut the stop valve to the house: if it then stops, look for water that runs\n"
     "  3. all taps shut: does it stop (stops=yes|no), and at what gauge (stop_gauge)\n"
     "  4. pump off, stop valve shut: does the gauge fall (falls_isolated=yes|no)\n"
     "  5. gauge the precharge (precharge=PRESSURE)\n"},
    {"does not start",
     {"not start", "never start", "won't start", "doesn't start", "dead", "not run", "won't run",
      "no water"},
     "its power, a lock-out of the controller, the motor; then the start setting or its sensor",
     "  1. by those licensed for it: isolator, breaker, voltage at the controller, overload\n"
     "  2. the controller's lock-out: find its cause, then reset it\n"
     "  3. open a tap and watch the gauge fall: over the start pressure it need not start\n"
     "     (on=never, draw=FLOW, stop_gauge)\n"},
    {"weak pressure at the taps",
     {"weak", "low pressure", "little pressure", "no pressure", "poor", "trickle"},
     "an incoming pressure under the design's, a filter or valve half shut, a start set too low,\n"
     "  a pump that runs backwards or is worn",
     "  1. the incoming gauge with the pump off and on (supply=PRESSURE)\n"
     "  2. strainers, filters and stop valves: clean and fully open\n"
     "  3. the gauge as it starts and with one tap open (start_gauge)\n"},
};
enum { SYMPTOMS = sizeof symptoms / sizeof symptoms[0] };

static void small_letters(char said[SAID_MOST], const char *words)
{
    size_t i = 0;

    for (; words[i] != '\0' && i + 1 < SAID_MOST; i++) {
        said[i] = (char)tolower((unsigned char)words[i]);
    }
    said[i] = '\0';
}

static size_t hits(const struct symptom *symptom, const char *said)
{
    size_t count = 0;

    for (size_t i = 0; i < WORDS_MOST && symptom->word[i] != NULL; i++) {
        count += strstr(said, symptom->word[i]) != NULL;
    }
    return count;
}

bool symptom_write(FILE *stream, const char *words)
{
    char said[SAID_MOST];
    const struct symptom *best = NULL;
    size_t most = 0;

    small_letters(said, words);
    for (size_t i = 0; i < SYMPTOMS; i++) {
        size_t count = hits(&symptoms[i], said);
        best = count > most ? &symptoms[i] : best;
        most = count > most ? count : most;
    }
    if (best == NULL) {
        return false;
    }
    (void)fprintf(stream,
                  "%s\n  may be: %s\nread, in this order, and tell each by --seen:\n%s"
                  "caution: isolate before opening anything, let the pressure off before the tank "
                  "is touched;\n  electrical work belongs to licensed trades.\n",
                  best->name, best->causes, best->steps);
    return true;
}
