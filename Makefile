# pumpday: `make demo` and `make check` are the two commands to know.

CC ?= cc
PREFIX ?= /usr/local
DESTDIR ?=
BUILD ?= build

WARN = -std=c17 -pedantic -Wall -Wextra -Wshadow -Wconversion -Wdouble-promotion \
	-Wstrict-prototypes -Wmissing-prototypes -Wcast-qual -Wwrite-strings -Wformat=2 -Wundef \
	-Wvla -Wswitch-enum -Wlogical-op -Wnull-dereference
CFLAGS ?= -O2 -g
PD_CFLAGS = $(WARN) -ffp-contract=off -D_POSIX_C_SOURCE=200809L -Iinclude -Isim $(CFLAGS)
LIBS = -lsundials_cvode -lcsv -lm
TEST_LIBS = -lcunit -lgsl -lgslcblas

LIB_SRC = $(filter-out sim/cli/%,$(wildcard sim/*/*.c))
CLI_SRC = $(wildcard sim/cli/*.c)
TEST_SRC = $(wildcard tests/*.c tests/*/*.c)
LIB_OBJ = $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ = $(CLI_SRC:%.c=$(BUILD)/%.o)
TEST_OBJ = $(TEST_SRC:%.c=$(BUILD)/%.o)
# every tests/ROOM/test_NAME.c registers its suite in void suite_NAME(void)
SUITES = $(patsubst test_%.c,%,$(notdir $(wildcard tests/*/test_*.c)))

all: $(BUILD)/libpumpday.a $(BUILD)/pumpday

$(BUILD)/libpumpday.a: $(LIB_OBJ)
	rm -f $@
	ar rcs $@ $^

$(BUILD)/pumpday: $(CLI_OBJ) $(BUILD)/libpumpday.a
	$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/suites.h: Makefile $(TEST_SRC)
	@mkdir -p $(@D)
	printf 'X(%s)\n' $(SUITES) > $@

$(BUILD)/run-tests: $(TEST_OBJ) $(BUILD)/libpumpday.a
	$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS) $(TEST_LIBS)

$(BUILD)/tests/main.o: $(BUILD)/suites.h

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(PD_CFLAGS) -I$(BUILD) -Itests -MMD -MP -c -o $@ $<

-include $(LIB_OBJ:.o=.d) $(CLI_OBJ:.o=.d) $(TEST_OBJ:.o=.d)

clean:
	rm -rf $(BUILD) out

.PHONY: all clean
