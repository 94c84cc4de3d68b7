# pumpday: `make demo` and `make check` are the two commands to know.

CC ?= cc
PREFIX ?= /usr/local
DESTDIR ?=
# MPI=1: for several processes under mpirun, beside the usual build
ifeq ($(MPI),1)
BUILD ?= build/mpi
ALONE = ranks_one
else
BUILD ?= build
ALONE = ranks_mpi
endif
SCENARIO ?= scenarios/hillside-house

WARN = -std=c17 -pedantic -Wall -Wextra -Wshadow -Wconversion -Wdouble-promotion \
	-Wstrict-prototypes -Wmissing-prototypes -Wcast-qual -Wwrite-strings -Wformat=2 -Wundef \
	-Wvla -Wswitch-enum -Wlogical-op -Wnull-dereference
# WERROR=1 makes warnings errors
ifeq ($(WERROR),1)
WARN += -Werror
endif
CFLAGS ?= -O2 -g
# a short line a step; V=1 shows the whole commands
ifneq ($(V),1)
tell = @printf '  %-5s%s\n' $(1) $(2)
Q = @
endif
LANGUAGE = -D_POSIX_C_SOURCE=200809L -Iinclude -Isim
PD_CFLAGS = $(WARN) -ffp-contract=off -pthread $(LANGUAGE) $(CPPFLAGS) $(CFLAGS)
# SUNDIALS 7 keeps its common part in a library of its own: asked of the linker at each link
SUNDIALS_CORE = $(shell probe=$(BUILD)/probe.$$$$; echo 'int main(void) { return 0; }' | \
	$(CC) $(LDFLAGS) -x c -o $$probe - -lsundials_core 2>/dev/null && echo -lsundials_core; \
	rm -f $$probe)
# SUNDIALS=FOLDER: CVODE compiled from its source there, with these very flags
ifeq ($(SUNDIALS),)
CVODE_LIBS = -lsundials_cvode $(SUNDIALS_CORE)
else
CVODE_OWN = $(BUILD)/libcvode.a
CVODE_LIBS = $(CVODE_OWN)
endif
# as mpicc tells them
HAS_MPI = $(shell command -v mpicc > /dev/null && command -v mpirun)
MPI_CFLAGS = -D_GNU_SOURCE $(patsubst -I%,-isystem %,$(shell mpicc --showme:compile))
ifeq ($(MPI),1)
MPI_LIBS = $(shell mpicc --showme:link)
endif
LIBS = $(CVODE_LIBS) -lcsv -lsqlite3 -lm $(MPI_LIBS)
TEST_LIBS = -lcunit -lgsl -lgslcblas -lm

LIB_SRC = $(filter-out sim/cli/% %/$(ALONE).c,$(wildcard sim/*/*.c))
CLI_SRC = $(wildcard sim/cli/*.c)
BENCH_SRC = $(wildcard tests/bench/*.c)
TEST_SRC = $(filter-out tests/bench/%,$(wildcard tests/*.c tests/*/*.c))
LIB_OBJ = $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ = $(CLI_SRC:%.c=$(BUILD)/%.o)
TEST_OBJ = $(TEST_SRC:%.c=$(BUILD)/%.o)
BENCH_OBJ = $(BENCH_SRC:%.c=$(BUILD)/%.o)
# every tests/ROOM/test_NAME.c registers its suite in void suite_NAME(void)
SUITES = $(patsubst test_%.c,%,$(notdir $(filter tests/%,$(wildcard tests/*/test_*.c))))
FORMATTED = $(wildcard include/pumpday/*.h sim/*/*.[ch] tests/*.[ch] tests/*/*.[ch])

RUN_PACKAGES = libsundials-dev libcsv-dev librandom123-dev libsqlite3-dev gnuplot-nox
TEST_PACKAGES = $(RUN_PACKAGES) libcunit1-dev libgsl-dev

all: $(BUILD)/libpumpday.a $(BUILD)/pumpday

$(BUILD)/libpumpday.a: $(LIB_OBJ)
	$(call tell,AR,$@)
	$(Q)rm -f $@
	$(Q)$(AR) rcs $@ $^

# the library as it is installed: one object, global in it what the public headers name
INSTALLED = $(BUILD)/installed/libpumpday.a

$(INSTALLED): $(LIB_OBJ) $(CVODE_OWN) $(wildcard include/pumpday/*.h)
	@mkdir -p $(@D)
	$(call tell,LD,$@)
	$(Q)rm -f $@
	$(Q)grep -oh 'pd_[a-z0-9_]*' include/pumpday/*.h | sort -u > $(@D)/names
	$(Q)$(CC) $(CFLAGS) $(if $(findstring -flto,$(CFLAGS)),-flinker-output=nolto-rel) -r -nostdlib \
		-o $(@D)/pumpday.o $(filter %.o,$^) $(if $(CVODE_OWN),-Wl$(COMMA)--whole-archive $(CVODE_OWN))
	$(Q)objcopy --keep-global-symbols=$(@D)/names $(@D)/pumpday.o
	$(Q)$(AR) rcs $@ $(@D)/pumpday.o

# what of SUNDIALS a program with a vector and a nonlinear solver of its own needs
CVODE_PARTS = cvode/cvode cvode/cvode_io cvode/cvode_ls cvode/cvode_nls cvode/cvode_proj \
	$(addprefix sundials/sundials_,context linearsolver logger math matrix memory \
	nonlinearsolver nvector version) sunnonlinsol/newton/sunnonlinsol_newton
CVODE_OBJ = $(CVODE_PARTS:%=$(BUILD)/sundials/%.o)

$(BUILD)/libcvode.a: $(CVODE_OBJ)
	$(call tell,AR,$@)
	$(Q)rm -f $@
	$(Q)$(AR) rcs $@ $^

$(BUILD)/sundials/%.o: $(SUNDIALS)/src/%.c
	@mkdir -p $(@D)
	$(call tell,CC,$<)
	$(Q)$(CC) $(CPPFLAGS) $(CFLAGS) -w -I$(SUNDIALS)/include -I$(SUNDIALS)/src/sundials -c -o $@ $<

$(BUILD)/pumpday: $(CLI_OBJ) $(BUILD)/libpumpday.a $(CVODE_OWN)
	$(call tell,LINK,$@)
	$(Q)$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

# written anew only when the list changed, so that a test file taken away is noticed too
$(BUILD)/suites.h: FORCE
	@mkdir -p $(@D)
	@printf 'X(%s)\n' $(SUITES) > $@.new
	@if cmp -s $@.new $@; then rm $@.new; else mv $@.new $@; fi

$(BUILD)/run-tests: $(TEST_OBJ) $(BUILD)/libpumpday.a $(CVODE_OWN)
	$(call tell,LINK,$@)
	$(Q)$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS) $(TEST_LIBS)

# the rooms of a day on the fixed-step scheme: same objects, other integrator, other names
FIXED_OBJ = $(filter-out $(addprefix $(BUILD)/sim/run/,integrator.o explicit.o implicit.o vector.o), \
	$(filter $(BUILD)/sim/run/% $(BUILD)/sim/observe/%,$(LIB_OBJ))) $(BUILD)/tests/bench/fixed_step.o
FIXED_NAMES = day_create day_free day_run

$(BUILD)/bench-fixed.o: $(FIXED_OBJ)
	$(call tell,LD,$@)
	$(Q)$(LD) -r -o $@.raw $^
	$(Q)objcopy $(foreach name,$(FIXED_NAMES),--redefine-sym pd_$(name)=fixed_$(name)) $(FIXED_NAMES:%=-G fixed_%) \
		-G fixed_step $@.raw $@
	$(Q)rm $@.raw

$(BUILD)/bench: $(BUILD)/tests/bench/bench.o $(BUILD)/bench-fixed.o $(BUILD)/libpumpday.a \
	$(CVODE_OWN)
	$(call tell,LINK,$@)
	$(Q)$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/bench-days: $(BUILD)/tests/bench/bench_days.o $(BUILD)/libpumpday.a $(CVODE_OWN)
	$(call tell,LINK,$@)
	$(Q)$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/bench-gsl: $(BUILD)/tests/bench/bench_gsl.o $(patsubst %.c,$(BUILD)/%.o,$(filter-out \
		tests/reference/test_%,$(wildcard tests/reference/*.c))) $(BUILD)/libpumpday.a
	$(call tell,LINK,$@)
	$(Q)$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS) $(TEST_LIBS)

# an earlier state of the project, from its history, under today's measurement
BASELINE ?= 97d39ab
$(BUILD)/bench-baseline: tests/bench/bench_days.c
	@rm -rf $(BUILD)/baseline && mkdir -p $(BUILD)/baseline
	@git archive $(BASELINE) | tar -x -C $(BUILD)/baseline
	@+$(MAKE) --no-print-directory -C $(BUILD)/baseline BUILD=build build/libpumpday.a
	$(call tell,LINK,$@)
	$(Q)$(CC) -I$(BUILD)/baseline/include $(PD_CFLAGS) $(LDFLAGS) -o $@ $< \
		$(BUILD)/baseline/build/libpumpday.a $(LIBS)

$(BUILD)/bench-diagnose: $(BUILD)/tests/bench/bench_diagnose.o $(BUILD)/tests/bench/bench_logs.o \
		$(BUILD)/tests/studies/planted.o $(BUILD)/tests/studies/planted_read.o \
		$(BUILD)/libpumpday.a
	$(call tell,LINK,$@)
	$(Q)$(CC) $(PD_CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/tests/main.o: $(BUILD)/suites.h
$(BUILD)/sim/studies/ranks_mpi.o: PD_CFLAGS += $(MPI_CFLAGS)

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(call tell,CC,$<)
	$(Q)$(CC) $(PD_CFLAGS) -I$(BUILD) -Itests -MMD -MP -c -o $@ $<

-include $(LIB_OBJ:.o=.d) $(CLI_OBJ:.o=.d) $(TEST_OBJ:.o=.d) $(BENCH_OBJ:.o=.d)

# Installs what is missing before anything is compiled: hence the builds below by a make of their own.
packages-run:
	@CC='$(CC)' CPPFLAGS='$(CPPFLAGS)' CFLAGS='$(CFLAGS)' .ci/packages $(RUN_PACKAGES)

packages:
	@CC='$(CC)' CPPFLAGS='$(CPPFLAGS)' CFLAGS='$(CFLAGS)' .ci/packages $(TEST_PACKAGES)

demo: packages-run
	@+$(MAKE) --no-print-directory all
	$(BUILD)/pumpday compare $(SCENARIO) -o out/demo
	@echo
	@echo 'files made:'
	@ls out/demo/summary.csv out/demo/hours.csv out/demo/cycles.csv out/demo/trace.csv \
		out/demo/settings.csv out/demo/zoom.csv
	@$(BUILD)/pumpday plot out/demo

# the fastest build: SUNDIALS from Debian's source, all compiled together
TUNED = all
tuned: packages-run
	@.ci/sundials-source $(BUILD)/sundials
	@+$(MAKE) --no-print-directory BUILD=$(BUILD)/tuned SUNDIALS=$(BUILD)/sundials/source AR=gcc-ar \
		CFLAGS='-O3 -g -flto=auto -Wno-maybe-uninitialized' $(TUNED)

# what a class needs: three sweeps of one tank, and their charts
LESSON = out/lesson/lesson-precharge.csv out/lesson/lesson-tank-size.csv out/lesson/lesson-gas.csv
LESSON_SWEEP = $(BUILD)/pumpday sweep scenarios/precharge-lesson --strategy pressure-start

lesson: packages-run
	@+$(MAKE) --no-print-directory all
	@rm -f $(LESSON:%=%.part) $(LESSON:%=%.part.key)
	$(LESSON_SWEEP) --vary tank.precharge=0:300:5kPa -o out/lesson/lesson-precharge.csv
	@echo
	$(LESSON_SWEEP) --vary tank.volume=4:100:4L -o out/lesson/lesson-tank-size.csv
	@echo
	$(LESSON_SWEEP) --vary tank.precharge=0:300:10kPa \
		--vary tank.gas=isothermal,polytropic,thermal -o out/lesson/lesson-gas.csv
	@echo
	@echo 'files made:'
	@ls $(LESSON)
	@$(BUILD)/pumpday plot out/lesson

# the pictures of the README
GALLERY = day-pressure-start.svg cycle-pressure-start.svg

gallery: all
	$(BUILD)/pumpday compare scenarios/hillside-house -o out/gallery > /dev/null
	$(BUILD)/pumpday plot out/gallery > /dev/null
	$(BUILD)/pumpday days scenarios/ten-flats -o out/gallery/days > /dev/null
	$(BUILD)/pumpday plot out/gallery/days > /dev/null
	install -d plots/gallery
	cp $(GALLERY:%=out/gallery/%) out/gallery/days/days.svg plots/gallery

# every test, side by side with -j; with FILTER=name only the suites whose name contains it
check: packages
	@+$(MAKE) --no-print-directory run-tests

tests: $(BUILD)/pumpday $(BUILD)/run-tests

# Each suite, or part of a suite, is a target of its own with a log and, where it passed, a stamp:
# the longest first, so that none is left alone at the end.
RAN = $(BUILD)/ran
IN_TWO = cli_charts reference
LONG = $(foreach suite,$(IN_TWO),$(suite).1 $(suite).2) cli_report evidence_properties \
	cli_units quick days plot_safety diagnose_log diagnose cli_safety
RUNS = $(LONG) $(filter-out $(IN_TWO) $(LONG),$(SUITES))
# whole days against an integration in Python, where there is a python3 with SciPy: each scenario a
# run of its own, and that integration's own tests
PYTHON_RUNS = $(patsubst scenarios/%/site.csv,python-%,$(wildcard scenarios/*/site.csv)) python.self
ifneq ($(FILTER),)
RUNS := $(strip $(foreach run,$(RUNS),$(if $(findstring $(FILTER),$(basename $(run))),$(run))))
else
RUNS := $(PYTHON_RUNS) $(RUNS)
endif

# one that fails stops no other, and what they say is not mixed
run-tests: tests
	$(if $(RUNS),,$(error no suite matches "$(FILTER)"))
	@mkdir -p $(RAN)
	@+$(MAKE) --no-print-directory --silent --keep-going --output-sync $(RUNS:%=$(RAN)/%.ok) \
		|| true
	@tests/evidence/join $(EVIDENCE_RUNS:%=$(RAN)/%.md) > $(BUILD)/evidence.md
	@tests/told $(RAN) $(RUNS)

# what tests read beside the program
READ = $(wildcard scenarios/*/*.csv plots/*.gp tests/reference/*.py)

# of `cli_charts.2`: its suite, its part, and of how many
part_of = $(basename $(1)) $(or $(patsubst .%,%,$(suffix $(1))),1) $(if $(suffix $(1)),2,1)

define record
@rm -f $@ $(@:.ok=.md)
@if $(1) > $(@:.ok=.log) 2>&1; then touch $@; printf '  %-5s%s\n' OK $(notdir $(@:.ok=)); \
	else cat $(@:.ok=.log); printf '  %-5s%s\n' FAIL $(notdir $(@:.ok=)); exit 1; fi
endef

$(RAN)/%.ok: $(BUILD)/run-tests $(BUILD)/pumpday $(READ)
	$(call record,PUMPDAY=$(BUILD)/pumpday EVIDENCE=$(@:.ok=.md) $(BUILD)/run-tests \
		--suite $(call part_of,$*))

$(RAN)/python-%.ok: $(BUILD)/pumpday $(READ)
	$(call record,$(call in_python,compare_with_program.py --jobs 1 --program $(BUILD)/pumpday \
		--kept $(BUILD)/reference-days scenarios/$*))

$(RAN)/python.self.ok: $(BUILD)/pumpday $(READ)
	$(call record,$(call in_python,test_reference.py))

# the system's own, which its SciPy belongs to, before another of the path
PYTHON = $(firstword $(wildcard /usr/bin/python3) python3)
in_python = if command -v $(PYTHON) > /dev/null; then $(PYTHON) tests/reference/$(1); \
	else echo 'skipped: no python3'; fi

# `days` in several ranks under mpirun, where there is MPI
check-mpi: all
	$(if $(HAS_MPI),@+$(MAKE) --no-print-directory MPI=1 BUILD=$(BUILD)/mpi all)
	@$(if $(HAS_MPI),tests/mpi/run $(BUILD)/mpi/pumpday $(BUILD)/pumpday, \
		echo 'skipped: no mpicc or mpirun (Debian: openmpi-bin libopenmpi-dev)')

reference: tests
	@+$(MAKE) --no-print-directory run-tests RUNS='$(PYTHON_RUNS)'

# the pages of evidence, in the order of the whole
EVIDENCE_FIRST = $(addprefix evidence_,water pipes pump tank switch sizing demand properties practice)
EVIDENCE_RUNS = $(filter $(RUNS),$(EVIDENCE_FIRST)) \
	$(filter-out $(EVIDENCE_FIRST),$(filter evidence_%,$(RUNS)))

# the checks against published work alone, and their page
evidence: packages
	@+$(MAKE) --no-print-directory run-tests FILTER=evidence; status=$$?; \
		cat $(BUILD)/evidence.md && exit $$status

# what days cost: see tests/bench/README.md.  The first release from the history and `make tuned`
# stand beside this build where they can be had
bench: $(BUILD)/bench $(BUILD)/bench-days $(BUILD)/bench-gsl
	-@+$(MAKE) --no-print-directory $(BUILD)/bench-baseline
	-@+$(MAKE) --no-print-directory tuned TUNED='all $(BUILD)/tuned/bench-days'
	python3 tests/bench/table.py \
		$$([ ! -x $(BUILD)/bench-baseline ] || echo first=$(BUILD)/bench-baseline) \
		packaged=$(BUILD)/bench-days \
		$$([ ! -x $(BUILD)/tuned/bench-days ] || echo tuned=$(BUILD)/tuned/bench-days) \
		--gsl $(BUILD)/bench-gsl
	@echo
	$(BUILD)/bench scenarios/hillside-house scenarios/six-flats
	@echo
	@+$(MAKE) --no-print-directory bench-ranks

# days a second in threads, and in ranks where there is MPI
bench-ranks: $(BUILD)/pumpday
	$(if $(HAS_MPI),@+$(MAKE) --no-print-directory MPI=1 BUILD=$(BUILD)/mpi all)
	@python3 tests/bench/ranks.py $(BUILD)/pumpday $(if $(HAS_MPI),$(BUILD)/mpi/pumpday)

# faults planted in whole days and looked for: how often they are named; SEED=... for others
bench-diagnose: $(BUILD)/bench-diagnose
	$(BUILD)/bench-diagnose $(SEED)

asan:
	@+$(MAKE) --no-print-directory BUILD=$(BUILD)/asan PYTHON_RUNS= run-tests CFLAGS='-O1 -g \
		-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer'

# slow under valgrind: two scenarios, and the tests of the parts that own memory
VALGRIND = valgrind -q --error-exitcode=9 --leak-check=full --errors-for-leak-kinds=definite
VALGRIND_SUITES = read_scenario bad_input outputs results compare
VALGRIND_SCENARIOS = scenarios/hillside-house scenarios/cistern-cottage

valgrind: tests
	set -e; for scenario in $(VALGRIND_SCENARIOS); do \
		$(VALGRIND) $(BUILD)/pumpday compare $$scenario -o $(BUILD)/valgrind > /dev/null; done
	set -e; for suite in $(VALGRIND_SUITES); do \
		PUMPDAY=$(BUILD)/pumpday $(VALGRIND) $(BUILD)/run-tests $$suite; done

lint: lint-format lint-layers lint-install lint-tidy lint-gcc

lint-format:
	@clang-format --dry-run -Werror $(FORMATTED)

# rooms use only those below them, and no file of a room goes round to itself
lint-layers: all $(INSTALLED)
	@nm -A -g $(LIB_OBJ) $(CLI_OBJ) | tests/layers
	@! nm -g --defined-only $(INSTALLED) | grep ' [A-Z] ' | grep -v ' pd_'

# what is installed serves a program that has nothing beside it: the one of the README
lint-install: all $(INSTALLED)
	@rm -rf $(BUILD)/prefix && mkdir -p $(BUILD)/prefix
	@+$(MAKE) --no-print-directory --silent install PREFIX='$(abspath $(BUILD)/prefix)' > $(BUILD)/prefix.log
	@awk '/^```c$$/ { on = 1; next } /^```/ { on = 0 } on' README.md > $(BUILD)/prefix/starts.c
	@cd $(BUILD)/prefix && $(CC) -std=c17 -Iinclude starts.c -Llib \
		$$(sed -n 's/^Libs: [^ ]* //p' lib/pkgconfig/pumpday.pc) -o starts
	@$(BUILD)/prefix/starts | grep -q '^pressure-start: [1-9]'
	@+$(MAKE) --no-print-directory --silent uninstall PREFIX='$(abspath $(BUILD)/prefix)'
	@test ! -e $(BUILD)/prefix/bin/pumpday

# what is MPI's is looked at where there is MPI
RANKS_SRC = sim/studies/ranks_one.c $(if $(HAS_MPI),sim/studies/ranks_mpi.c)
lint-tidy: $(patsubst %.c,$(BUILD)/tidy/%.ok,$(sort $(LIB_SRC) $(RANKS_SRC)) $(CLI_SRC) $(TEST_SRC) $(BENCH_SRC))

$(BUILD)/tidy/sim/studies/ranks_mpi.ok: LANGUAGE += $(MPI_CFLAGS)

$(BUILD)/tidy/%.ok: %.c .clang-tidy tests/.clang-tidy $(wildcard include/pumpday/*.h sim/*/*.h) $(BUILD)/suites.h
	@mkdir -p $(@D)
	$(call tell,TIDY,$<)
	$(Q)clang-tidy --quiet $< -- -std=c17 $(LANGUAGE) -I$(BUILD) -Itests
	@touch $@

lint-gcc:
	@+$(MAKE) --no-print-directory BUILD=$(BUILD)/lint WERROR=1 all tests

format:
	clang-format -i $(FORMATTED)

COMMA = ,
VERSION = $(shell sed -n 's/.*PD_VERSION "\(.*\)".*/\1/p' include/pumpday/pumpday.h)

install: all $(INSTALLED)
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/lib/pkgconfig \
		$(DESTDIR)$(PREFIX)/include/pumpday $(DESTDIR)$(PREFIX)/share/pumpday/plots
	install -m 644 plots/*.gp $(DESTDIR)$(PREFIX)/share/pumpday/plots
	install -m 755 $(BUILD)/pumpday $(DESTDIR)$(PREFIX)/bin/pumpday
	install -m 644 $(INSTALLED) $(DESTDIR)$(PREFIX)/lib/libpumpday.a
	install -m 644 include/pumpday/*.h $(DESTDIR)$(PREFIX)/include/pumpday
	printf '%s\n' 'Name: pumpday' 'Description: simulation of water pressure boosters' \
		'Version: $(VERSION)' 'Cflags: -I$(PREFIX)/include' \
		'Libs: -L$(PREFIX)/lib -lpumpday -pthread $(filter -l%,$(LIBS))' \
		> $(DESTDIR)$(PREFIX)/lib/pkgconfig/pumpday.pc

# folders that an installation makes, if nothing is left in them: all of a prefix of its own
# (/opt/pumpday), elsewhere those that others do not count on
OWN = $(if $(findstring pumpday,$(notdir $(PREFIX))),bin lib include share ../$(notdir $(PREFIX)))

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/pumpday $(DESTDIR)$(PREFIX)/lib/libpumpday.a \
		$(DESTDIR)$(PREFIX)/lib/pkgconfig/pumpday.pc
	rm -rf $(DESTDIR)$(PREFIX)/include/pumpday $(DESTDIR)$(PREFIX)/share/pumpday
	@cd $(DESTDIR)$(PREFIX) && rmdir lib/pkgconfig $(OWN) 2>/dev/null || true

clean:
	rm -rf $(BUILD) out

FORCE:

.PHONY: all packages packages-run demo tuned lesson gallery check check-mpi reference tests run-tests evidence bench bench-ranks bench-diagnose asan valgrind lint lint-format \
	lint-layers lint-install lint-tidy lint-gcc format install uninstall clean FORCE
