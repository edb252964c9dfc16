# sparwise: build, demo, tests. `make help` lists the targets.

VARIANT ?= release
BUILD := build/$(VARIANT)
CC = gcc
PREFIX ?= /usr/local
BINDIR ?= $(PREFIX)/bin
DATADIR ?= $(PREFIX)/share
MANDIR ?= $(DATADIR)/man
DOCDIR ?= $(DATADIR)/doc/sparwise
EXAMPLEDIR ?= $(DATADIR)/sparwise
COMPLETIONDIR ?= $(DATADIR)/bash-completion/completions

# Folder of real forecast files; tests that use it skip, saying so, without it.
SPARWISE_GRIBS ?= ../shared/gribs

# --- packages ---------------------------------------------------------------

BUILD_PACKAGES := gcc libc6-dev pkg-config libeccodes-dev libproj-dev \
	libinih-dev libxml2-dev libjansson-dev libnetcdf-dev node-d3
# Shorelines of the world: the program runs without, and says so.
DEMO_PACKAGES := gmt-gshhg-high
# What packs and unpacks a Debian package.
DEB_PACKAGES := dpkg-dev binutils
TEST_PACKAGES := gmt-gshhg-low gmt-gshhg-high gmt libcmocka-dev libxml2-utils gpsbabel gdal-bin \
	libeccodes-tools locales dpkg jq parallel mandoc $(DEB_PACKAGES) fakeroot
# What looks for errors while the program runs.
DEEP_PACKAGES := valgrind clang libomp-14-dev libclang-rt-14-dev
LINT_PACKAGES := clang clang-format clang-tidy libomp-dev libclang-rt-14-dev

# --- compiler ---------------------------------------------------------------

STANDARD := -std=c17 -D_POSIX_C_SOURCE=200809L -ffp-contract=off -fopenmp
# accepted by gcc and clang
WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion \
	-Wdouble-promotion -Wfloat-equal -Wformat=2 -Wundef -Wvla \
	-Wstrict-prototypes -Wmissing-prototypes -Wcast-qual -Wwrite-strings \
	-Wswitch-enum -Wimplicit-fallthrough -Wnull-dereference
ifneq (,$(findstring clang,$(CC)))
WARNINGS += -Wcomma -Wmissing-variable-declarations
else
WARNINGS += -Wlogical-op -Wduplicated-cond -Wduplicated-branches \
	-Wformat-signedness -Wjump-misses-init
endif
ifdef WERROR
WARNINGS += -Werror
endif

SANITIZE := -fsanitize=address,undefined,float-cast-overflow,float-divide-by-zero \
	-fno-sanitize-recover=all -fno-omit-frame-pointer
OPTIMISE_release := -O2 -g
OPTIMISE_debug := -O0 -g
OPTIMISE_asan := -O1 -g $(SANITIZE)
OPTIMISE_coverage := -Og -g --coverage
OPTIMISE_fuzz := -O1 -g $(SANITIZE) -fsanitize=fuzzer-no-link -Wno-pass-failed
OPTIMISE_threads := -O1 -g -fsanitize=thread
OPTIMISE := $(OPTIMISE_$(firstword $(subst -, ,$(VARIANT))))

# Child processes end by _exit(), which counts nothing: it is asked to.
COUNTED_EXIT := $(BUILD)/tests/support/counted_exit.o
LINK_coverage := -Wl,--wrap=_exit,--wrap=_Exit $(COUNTED_EXIT)

LIBRARY_CFLAGS = $(shell pkg-config --cflags proj inih libxml-2.0 jansson netcdf)
LIBRARIES = -leccodes $(shell pkg-config --libs proj inih libxml-2.0 jansson netcdf) -lm

# Several at once, where the user has not said how many.
PARALLEL = --no-print-directory $(if $(findstring -j,$(MAKEFLAGS)),,-j$(shell nproc))

# `make V=1` shows whole commands.
ifdef V
QUIET =
else
QUIET = @echo "  $@";
endif

COMPILE = $(CC) $(STANDARD) $(OPTIMISE) $(WARNINGS) -Isrc -MMD -MP \
	$(LIBRARY_CFLAGS) $(CPPFLAGS) $(CFLAGS)
LINK = $(CC) $(STANDARD) $(OPTIMISE) $(CFLAGS) $(LDFLAGS) $(LINK_$(VARIANT))

# --- sources ----------------------------------------------------------------

VERSION := 0.1.0
SOURCES := $(wildcard src/*/*.c)
LIBRARY := $(BUILD)/libsparwise.a
PROGRAM := $(BUILD)/sparwise

SUPPORT := $(filter-out %_main.c %/starved.c %/counted_exit.c,$(wildcard tests/support/*.c))
TEST_KINDS := unit property golden interop published
TEST_SOURCES := $(foreach kind,$(TEST_KINDS),$(wildcard tests/$(kind)/*_test.c))
TESTS := $(TEST_SOURCES:%.c=$(BUILD)/%)

# What makes the bench's inputs, and its other parts.
BENCH_MAKERS := tests/support/ocean_maker.c tests/support/ocean_weather.c \
	tests/support/grib_maker.c
BENCH_SOURCES := $(filter-out %_main.c,$(wildcard tests/bench/*.c))
BENCH_PROGRAMS := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/bench/*_main.c))

# The manual and the completion, made from docs/pages/ and the program's tables.
PAGE_NAMES := $(patsubst docs/pages/%.in,%,$(wildcard docs/pages/*.in))
PAGES := $(PAGE_NAMES:%=$(BUILD)/pages/%)

# Each fuzz target, with libFuzzer or with what runs the seeds alone.
FUZZ_TARGETS := $(filter-out fuzz replay children,$(basename $(notdir $(wildcard tests/fuzz/*.c))))
FUZZ_FOLDER := $(BUILD)/tests/fuzz
FUZZERS := $(FUZZ_TARGETS:%=$(FUZZ_FOLDER)/%)
FUZZ_DRIVER_fuzz := -fsanitize=fuzzer -Wl,--wrap=_exit $(FUZZ_FOLDER)/children.o
FUZZ_DRIVER := $(or $(FUZZ_DRIVER_$(VARIANT)),$(FUZZ_FOLDER)/replay.o)

OBJECTS := $(SOURCES:%.c=$(BUILD)/%.o) $(BUILD)/page_assets.o
SUPPORT_OBJECTS := $(SUPPORT:%.c=$(BUILD)/%.o)
BENCH_OBJECTS := $(patsubst %.c,$(BUILD)/%.o,$(BENCH_SOURCES) $(BENCH_MAKERS))

.DELETE_ON_ERROR:
.SECONDARY:
.PHONY: browser-packages picture all program pages demo check check-long \
	check-sanitized check-valgrind check-threads deep-packages test-build samples \
	coverage lint format check-format check-layers check-werror check-werror-gcc \
	check-werror-clang bench bench-coast install fuzzers fuzz fuzz-smoke \
	uninstall dist deb clean help build-packages deb-packages demo-packages test-packages lint-packages

all: program pages ## build the program and its manual

program: $(PROGRAM)

pages: $(PAGES)

$(PROGRAM): $(BUILD)/src/main.o $(LIBRARY)
	$(QUIET) $(LINK) -o $@ $^ $(LIBRARIES)

# What every report.html carries: the drawing library of Debian's node-d3.
D3 = /usr/share/nodejs/d3/dist/d3.min.js
REPORT_PAGE := src/report/page

$(BUILD)/page_assets.c: $(REPORT_PAGE)/embed $(REPORT_PAGE)/page.css $(D3) \
		$(REPORT_PAGE)/page.js
	@mkdir -p $(@D)
	$(QUIET) $(REPORT_PAGE)/embed $(REPORT_PAGE)/page.css $(D3) \
	    $(REPORT_PAGE)/page.js >$@

$(BUILD)/page_assets.o: $(BUILD)/page_assets.c
	$(QUIET) $(COMPILE) -c -o $@ $<

$(BUILD)/make-pages: $(BUILD)/src/pages.o $(LIBRARY)
	$(QUIET) $(LINK) -o $@ $^ $(LIBRARIES)

$(BUILD)/pages/%: docs/pages/%.in $(BUILD)/make-pages
	@mkdir -p $(@D)
	$(QUIET) $(BUILD)/make-pages $< >$@

$(LIBRARY): $(OBJECTS)
	$(QUIET) rm -f $@ && ar rcs $@ $^

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(QUIET) $(COMPILE) -DSPARWISE_VERSION='"$(VERSION)"' -c -o $@ $<

$(BUILD)/tests/%_test: $(BUILD)/tests/%_test.o $(SUPPORT_OBJECTS) $(LIBRARY)
	$(QUIET) $(LINK) -o $@ $^ $(LIBRARIES) -lcmocka

# The program with an allocation that fails; the address sanitizer has its own.
STARVED := $(if $(findstring asan,$(VARIANT)),,$(BUILD)/sparwise-starved)

$(BUILD)/sparwise-starved: $(BUILD)/src/main.o $(BUILD)/tests/support/starved.o \
		$(LIBRARY)
	$(QUIET) $(LINK) -o $@ $^ $(LIBRARIES)

# The bench does without what the tests need: no cmocka.
$(BENCH_PROGRAMS): %: %.o $(BENCH_OBJECTS) $(LIBRARY)
	$(QUIET) $(LINK) -o $@ $^ $(LIBRARIES)

$(BUILD)/tests/%_main: $(BUILD)/tests/%_main.o $(SUPPORT_OBJECTS) $(LIBRARY)
	$(QUIET) $(LINK) -o $@ $^ $(LIBRARIES) -lcmocka

$(FUZZERS): %: %.o $(FUZZ_FOLDER)/fuzz.o $(filter %.o,$(FUZZ_DRIVER)) $(LIBRARY)
	$(QUIET) $(LINK) $(filter -%,$(FUZZ_DRIVER)) -o $@ $^ $(LIBRARIES)

ifeq ($(VARIANT),coverage)
$(PROGRAM) $(TESTS) $(STARVED) $(BUILD)/make-pages: | $(COUNTED_EXIT)
endif

-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)

# --- packages, asked for only where something is missing ---------------------

# $(call install-packages,LIST): installs what dpkg does not have, through apt,
# all at once; without apt it names the packages and stops.
define install-packages
	@missing=; for package in $(1); do \
	    dpkg-query -W -f='$${Status}' $$package 2>/dev/null | \
	        grep -q 'ok installed' || missing="$$missing $$package"; \
	done; \
	[ -z "$$missing" ] && exit 0; \
	if ! command -v apt-get >/dev/null; then \
	    echo "sparwise needs these packages (Debian names):$$missing" >&2; \
	    exit 1; \
	fi; \
	sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	echo "installing:$$missing" >&2; \
	$$sudo apt-get -q update >&2 && \
	DEBIAN_FRONTEND=noninteractive $$sudo apt-get install -q -y \
	    --no-install-recommends $$missing >&2
endef

build-packages:
	$(call install-packages,$(BUILD_PACKAGES))

demo-packages:
	$(call install-packages,$(BUILD_PACKAGES) $(DEMO_PACKAGES))

deb-packages:
	$(call install-packages,$(BUILD_PACKAGES) $(DEB_PACKAGES))

test-packages:
	$(call install-packages,$(BUILD_PACKAGES) $(TEST_PACKAGES))

# A browser is wanted, not needed: without one its tests skip, saying so.
browser-packages:
	@tests/browser/prepare

deep-packages:
	$(call install-packages,$(BUILD_PACKAGES) $(TEST_PACKAGES) $(DEEP_PACKAGES))

lint-packages:
	$(call install-packages,$(BUILD_PACKAGES) $(TEST_PACKAGES) $(LINT_PACKAGES))

# --- use --------------------------------------------------------------------

DEMO := build/demo

demo: demo-packages ## install what is missing, build, plan the demo passage
	@$(MAKE) $(PARALLEL) program pages
	$(PROGRAM) plan grib-samples/trade-crossing.ini --out $(DEMO) --force
	@echo "files:"; ls $(DEMO)/* | sed 's/^/  /'

# --- tests ------------------------------------------------------------------

TEST_SETTINGS = SPARWISE_GRIBS=$(SPARWISE_GRIBS) SPARWISE=$(PROGRAM) \
	OMP_WAIT_POLICY=passive

test-build:
	@$(MAKE) $(PARALLEL) program pages $(TESTS) $(FUZZERS) $(STARVED)

BROWSER_TESTS := tests/browser/page-test
FUZZ_TESTS := tests/fuzz/seeds-test

check: test-packages browser-packages ## install what the tests need, build, run the tests
	@$(MAKE) $(PARALLEL) test-build
	@$(TEST_SETTINGS) tests/support/run-tests $(TESTS) $(FUZZ_TESTS) \
	    $(BROWSER_TESTS)

check-long: test-packages browser-packages ## the whole of the slow tests
	@$(MAKE) $(PARALLEL) test-build
	@$(TEST_SETTINGS) SPARWISE_LONG=1 tests/support/run-tests $(TESTS) \
	    $(FUZZ_TESTS) $(BROWSER_TESTS)

# Left out: the kinds that hold figures, not memory, to account (property,
# published); whole plans by the dozen, three times slower there, over code that
# the others run, too, some in less memory than a sanitizer takes; what only
# installs and packs; and what walks grids by the GRIB library, which keeps some
# of its memory (ecCodes 2.28).
SANITIZED := $(filter-out %_planned_test.c tests/unit/fan_test.c \
	tests/unit/voyage_limits_test.c $(addprefix tests/interop/, land_test.c offshore_test.c \
	install_test.c plotter_test.c documents_test.c spread_test.c window_test.c \
	shares_test.c moved_test.c mutated_test.c faults_test.c real_grids_test.c \
	round_land_test.c plan_test.c real_forecasts_test.c), \
	$(foreach kind,unit golden interop,$(wildcard tests/$(kind)/*_test.c)))

check-sanitized: test-packages ## the tests under address and undefined sanitizers
	@$(MAKE) $(PARALLEL) VARIANT=asan program pages \
	    $(SANITIZED:%.c=build/asan/%) $(FUZZERS:$(BUILD)/%=build/asan/%)
	@SPARWISE_GRIBS=$(SPARWISE_GRIBS) SPARWISE=build/asan/sparwise \
	    OMP_WAIT_POLICY=passive \
	    LSAN_OPTIONS=suppressions=$(CURDIR)/tests/support/leaks.txt:print_suppressions=0 \
	    tests/support/run-tests $(SANITIZED:%.c=build/asan/%) \
	    $(FUZZ_TESTS)

fuzzers: $(FUZZERS)

# One of FUZZ_TARGETS, or all in turn; seconds for each.
TARGET = $(FUZZ_TARGETS)
SECONDS = 60

NO_FUZZ_TARGET = $(filter-out $(FUZZ_TARGETS),$(TARGET))

fuzz: lint-packages ## fuzz the parsers: TARGET=NAME, SECONDS=N
	$(if $(NO_FUZZ_TARGET),$(error no fuzz target '$(NO_FUZZ_TARGET)'; \
	    TARGET is one of: $(FUZZ_TARGETS)))
	@$(MAKE) $(PARALLEL) VARIANT=fuzz CC=clang $(TARGET:%=build/fuzz/tests/fuzz/%)
	@tests/fuzz/run build/fuzz/tests/fuzz $(SECONDS) $(TARGET)

fuzz-smoke: ## all of them, for a minute together
	@$(MAKE) --no-print-directory fuzz \
	    SECONDS=$$((60 / $(words $(FUZZ_TARGETS))))

# What takes in what others have written: files, options, texts.
PARSERS := base/ini.c base/keys.c base/text.c base/instant.c boat/boat_file.c \
	boat/polar_file.c boat/roll_seen.c command/options.c \
	earth/bin.c earth/coast.c earth/position.c exchange/geojson.c exchange/gpx.c \
	exchange/json.c forecast/cut.c forecast/decode.c forecast/grib.c \
	forecast/grib_grid.c forecast/grib_library.c forecast/lead.c \
	forecast/member.c forecast/packed.c \
	forecast/parameter.c forecast/recall.c forecast/scan.c plan/crew.c \
	plan/request.c report/plan_read.c
# Not where memory and disk run out: what counts the lines needs them itself.
COVERED := $(SANITIZED) $(addprefix tests/interop/, plan_test.c \
	real_forecasts_test.c)

coverage: test-packages ## lines that the tests run, of the parsers and of src/
	@$(MAKE) $(PARALLEL) VARIANT=coverage test-build
	@find build/coverage -name '*.gcda' -delete
	@SPARWISE_GRIBS=$(SPARWISE_GRIBS) SPARWISE=build/coverage/sparwise \
	    OMP_WAIT_POLICY=passive \
	    tests/support/run-tests $(COVERED:%.c=build/coverage/%)
	@tests/support/coverage-table build/coverage $(PARSERS)

# A passage with a coast and both threads, its forecast read, its files written.
QUICK_PASSAGE := grib-samples/coastal-hop.ini

check-valgrind: deep-packages ## no error of memory on a quick plan, in any process
	@$(MAKE) $(PARALLEL) program
	@rm -rf build/valgrind && mkdir -p build/valgrind
	OMP_WAIT_POLICY=passive valgrind -q --leak-check=full \
	    --show-leak-kinds=definite --errors-for-leak-kinds=definite \
	    --log-file=build/valgrind/%p.log \
	    $(PROGRAM) plan $(QUICK_PASSAGE) --quiet --force --out build/valgrind/plan >/dev/null
	@cat build/valgrind/*.log; ! grep -q . build/valgrind/*.log
	@echo "valgrind: no errors in $$(ls build/valgrind/*.log | wc -l) processes"

# clang's own OpenMP, and its tool that tells the sanitizer how threads wait for
# one another: with gcc's the sanitizer sees races where none are.
ARCHER = /usr/lib/llvm-14/lib/libarcher.so

check-threads: deep-packages ## no race of threads on a quick plan
	@$(MAKE) $(PARALLEL) VARIANT=threads CC=clang program
	@mkdir -p build/threads
	OMP_TOOL_LIBRARIES=$(ARCHER) OMP_NUM_THREADS=2 \
	    TSAN_OPTIONS="ignore_noninstrumented_modules=1 exitcode=66" \
	    build/threads/sparwise plan $(QUICK_PASSAGE) --quiet --force \
	    --out build/threads/plan >/dev/null
	@echo "threads: no races"

check-werror: check-werror-gcc check-werror-clang ## warnings are errors, with gcc and with clang

check-werror-gcc: test-packages
	@$(MAKE) $(PARALLEL) VARIANT=release-werror WERROR=1 CC=gcc test-build

# clang finds its faults without optimising.
check-werror-clang: lint-packages
	@$(MAKE) $(PARALLEL) VARIANT=debug-clang WERROR=1 CC=clang test-build

check-layers: ## includes go down the ranks only; libraries stay in their rooms
	@tests/support/check-layers

check-format: lint-packages
	clang-format --dry-run --Werror $$(git ls-files '*.c' '*.h')

format: ## lay out the sources
	clang-format -i $$(git ls-files '*.c' '*.h')

# One file at a time: over several, clang-tidy 14 sees uninitialised va_lists.
TIDY := $(SOURCES:%=tidy-%) tidy-src/main.c tidy-src/pages.c
.PHONY: $(TIDY)

lint: lint-packages ## clang-tidy over the sources
	@$(MAKE) $(PARALLEL) $(TIDY)

$(TIDY): tidy-%:
	@clang-tidy --quiet --warnings-as-errors='*' $* -- $(STANDARD) -Isrc \
	    $(LIBRARY_CFLAGS) -DSPARWISE_VERSION='""' 2>/dev/null

samples: test-packages ## make grib-samples/ anew (same bytes each time)
	@$(MAKE) --no-print-directory $(BUILD)/tests/support/samples_main
	$(BUILD)/tests/support/samples_main grib-samples

# With the coast that `make demo` installs, whatever else is there.
picture: demo browser-packages ## make docs/report.png anew: the page of the demo
	$(PROGRAM) plan grib-samples/trade-crossing.ini --quiet --force \
	    --coast /usr/share/gmt-gshhg/binned_GSHHS_h.nc --out $(DEMO) >/dev/null
	node tests/browser/picture.js $(DEMO)/report.html docs/report.png \
	    "$$(tests/browser/picture-source $(DEMO)/report.html)"

# --- bench ------------------------------------------------------------------

BENCH_FOLDER := build/bench

# `make bench PARTS="whole land"` runs some: whole, growth, accuracy, land, roll, window.
PARTS =

bench: build-packages ## time plans beside the reading of their forecasts
	@$(MAKE) $(PARALLEL) program $(BUILD)/tests/bench/plan_main \
	    $(BENCH_FOLDER)/made
	@SPARWISE=$(PROGRAM) $(BUILD)/tests/bench/plan_main $(PARTS)

# Made anew only where their maker has changed, not the program.
$(BENCH_FOLDER)/made: $(BENCH_MAKERS) tests/support/ocean_maker.h \
		tests/bench/inputs.c tests/bench/inputs_main.c \
		| $(BUILD)/tests/bench/inputs_main
	@mkdir -p $(@D)
	@$(BUILD)/tests/bench/inputs_main $(@D) ../../polars/wanderer-12.ini
	@touch $@

bench-coast: demo-packages ## time the loading of a coast, and steps near and far
	@$(MAKE) --no-print-directory $(BUILD)/tests/bench/coast_main
	@$(BUILD)/tests/bench/coast_main /usr/share/gmt-gshhg/binned_GSHHS_?.nc

# --- installation -----------------------------------------------------------

# Documents keep their places among one another, so that their links hold; the
# passages of grib-samples/ look for their boats in polars/ beside it. Both are data,
# not documents: small systems are installed without share/doc.
DOCUMENTS := README.md DEVELOPERS.md LICENSE docs/changelog \
	$(filter-out %.in,$(wildcard docs/*.* docs/*/*.*))
EXAMPLES := $(wildcard polars/* grib-samples/*)

# Every file and where it goes, as pairs FILE=PLACE.
INSTALLED := $(BUILD)/pages/sparwise.bash=$(COMPLETIONDIR)/sparwise \
	$(foreach page,$(filter %.1,$(PAGES)),$(page)=$(MANDIR)/man1/$(notdir $(page))) \
	$(foreach page,$(filter %.5,$(PAGES)),$(page)=$(MANDIR)/man5/$(notdir $(page))) \
	$(foreach file,$(DOCUMENTS),$(file)=$(DOCDIR)/$(file)) \
	$(foreach file,$(EXAMPLES),$(file)=$(EXAMPLEDIR)/$(file))

install: program pages ## PREFIX, DESTDIR, BINDIR, DATADIR
	@install -D -m 755 $(PROGRAM) "$(DESTDIR)$(BINDIR)/sparwise"
	@for pair in $(INSTALLED); do \
	    install -D -m 644 "$${pair%%=*}" "$(DESTDIR)$${pair#*=}" || exit 1; \
	done
	@echo "installed: $(DESTDIR)$(BINDIR)/sparwise, examples in $(DESTDIR)$(EXAMPLEDIR)"

# Folders that others use stay, the program's own go where they are empty.
uninstall: ## what install has put there; the same PREFIX, DESTDIR
	@rm -f "$(DESTDIR)$(BINDIR)/sparwise"
	@for pair in $(INSTALLED); do rm -f "$(DESTDIR)$${pair#*=}"; done
	@for folder in "$(DESTDIR)$(DOCDIR)" "$(DESTDIR)$(EXAMPLEDIR)"; do \
	    [ ! -d "$$folder" ] || find "$$folder" -depth -type d -empty -delete; \
	done

# Times in packages: that of the commit, or 1970 where there is none.
COMMIT_TIME = $(or $(SOURCE_DATE_EPOCH),$(shell git log -1 --format=%ct 2>/dev/null),0)

DIST := build/sparwise-$(VERSION).tar.gz

dist: ## the committed sources as build/sparwise-VERSION.tar.gz: same commit, same bytes
	@mkdir -p build
	@git diff --quiet HEAD || echo "dist: what is not committed is left out" >&2
	@git -c tar.umask=0022 archive --format=tar --prefix=sparwise-$(VERSION)/ \
	    -o $(DIST:.gz=) HEAD
	@gzip -9nf $(DIST:.gz=)
	@echo $(DIST)

DEB_FOLDER := $(BUILD)/deb
DEB = build/sparwise_$(VERSION)_$(shell dpkg --print-architecture).deb

deb: deb-packages ## a Debian package, build/sparwise_VERSION_ARCH.deb
	@rm -rf $(DEB_FOLDER)
	@$(MAKE) --no-print-directory install PREFIX=/usr \
	    DESTDIR=$(DEB_FOLDER)/debian/sparwise >/dev/null
	@SOURCE_DATE_EPOCH=$(COMMIT_TIME) \
	    tests/support/make-deb $(DEB_FOLDER) $(VERSION) $(DEB)
	@rm -rf $(DEB_FOLDER)
	@echo $(DEB)

clean: ## remove everything that was built
	rm -rf build

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/  \1\t\2/p' $(MAKEFILE_LIST) | \
	    expand -t 20
