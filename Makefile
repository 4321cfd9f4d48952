# diewright. `make demo` shows it, `make check` tests it; both look for what is missing first.
#
# CC CFLAGS CPPFLAGS LDFLAGS DESTDIR PREFIX are yours. DEPS=no never installs a package.

VERSION = 0.9
PREFIX ?= /usr/local
PKG_CONFIG ?= pkg-config
JOBS ?= $(shell nproc)
B ?= build
# where the tests' objects are: what is built with the sanitizers in `check` is linked with the tests that are there already
T ?= $B
CURSES = formw menuw panelw ncursesw

ROOMS = base unit record typed shape draw formula table model store handbook dieset findings explore tolerance compare review job place start report sheet solid shop view terminal practice cli tui
LOW_CPPFLAGS = -Iinclude -Isrc -I$B -D_GNU_SOURCE -DDIEWRIGHT_DATA='"$(PREFIX)/share/diewright"' \
	-DDIEWRIGHT_VERSION='"$(VERSION)"'
# The checked forms of the C library's calls want optimisation, and the sanitizers want the calls themselves.
FORTIFY = -U_FORTIFY_SOURCE $(if $(filter -O0,$(CFLAGS)),,-D_FORTIFY_SOURCE=2)
HARDEN = -fstack-protector-strong -fstack-clash-protection -fcf-protection -fPIE $(FORTIFY) -Werror=format-security
OWN_CFLAGS = -std=c17 -O2 -g -Wall -Wextra -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Wformat=2 -Wno-format-nonliteral \
	-ffile-prefix-map=$(CURDIR)=. $(HARDEN) $(WERROR:1=-Werror) $(EXTRA)
OWN_LDFLAGS = -pie -Wl,-z,relro -Wl,-z,now
# Looked up once, and only where something is built: `make demo` on a bare machine must get as far as
# asking for the packages.
CURSES_LIBS = $(or $(shell $(PKG_CONFIG) --libs $(CURSES) 2>/dev/null),-lformw -lmenuw -lpanelw -lncursesw -ltinfo)
LIBS = -lsqlite3 -lm

# what a room may use, from the one page that says so; <headers> are not rooms
FLOORS := $(shell sed -n 's/^[a-z]*:/&|/p' src/FLOORS | tr -s ' ' '|')
uses = $(filter-out <%,$(subst |, ,$(patsubst $(1):%,%,$(filter $(1):%,$(FLOORS)))))
# ... and what those rooms need in turn, to link
links = $(sort $(call uses,$(1)) $(foreach u,$(call uses,$(1)),$(call uses,$u)))

# a room's files; a large room has folders of its own
files = $(wildcard src/$(1)/*.c src/$(1)/*/*.c)

SOURCES := $(foreach r,$(ROOMS),$(call files,$r)) src/main.c
OBJECTS := $(SOURCES:src/%.c=$B/%.o)

all: $B/diewright $B/handbook/checked

# V=1 shows every command whole
Q = $(if $(V),,@)

$B/%.o: src/%.c
	@mkdir -p $(@D)
	$(if $(V),,@echo "  cc $<")
	$Q$(CC) $(LOW_CPPFLAGS) $(CPPFLAGS) $(OWN_CFLAGS) $(CFLAGS) -MMD -MP -c -o $@ $<

define room
$B/lib$(1).a: $(patsubst src/%.c,$B/%.o,$(call files,$(1)))
	@rm -f $$@
	$$Q$$(AR) rcs $$@ $$^
endef
$(foreach r,$(ROOMS),$(eval $(call room,$r)))

# The program knows the handbook that it was built and tested with by its sum.
$B/shipped: src/shipped.c src/handbook/sum.c $B/libbase.a
	$Q$(CC) $(LOW_CPPFLAGS) $(CPPFLAGS) $(OWN_CFLAGS) $(CFLAGS) $(EXTRA) $(LDFLAGS) -o $@ $^
$B/handbook/shipped.h: $B/shipped $(sort $(wildcard data/handbook/*.txt))
	@mkdir -p $(@D)
	$Q$B/shipped $(filter %.txt,$^) >$@
$B/handbook/handbook.o: $B/handbook/shipped.h
$B/handbook/checked: $B/diewright
	$Q$B/diewright --data data handbook --examples >$@.part || { tail -n 20 $@.part; exit 1; }
	@mv $@.part $@

$B/diewright: $B/main.o $(ROOMS:%=$B/lib%.a)
	$(if $(V),,@echo "  link $@")
	$Q$(CC) $(OWN_LDFLAGS) $(EXTRA) $(CFLAGS) $(LDFLAGS) -o $@ $B/main.o \
		-Wl,--start-group $(ROOMS:%=$B/lib%.a) -Wl,--end-group $(CURSES_LIBS) $(LIBS)

# What tests count, where one room calls another (tests/counts.c).
COUNTED = -Wl,--wrap=formula_parse,--wrap=dieset_try,--wrap=build_new,--wrap=findings_judge

# The same program, told who runs it by the environment, and counting.
$B/diewright-test: $B/main.o $T/tests/who.o $T/tests/counts.o $(ROOMS:%=$B/lib%.a)
	$Q$(CC) $(OWN_LDFLAGS) $(EXTRA) $(CFLAGS) $(LDFLAGS) -Wl,--wrap=getpwuid,--wrap=gethostname $(COUNTED) \
		-o $@ $B/main.o $T/tests/who.o $T/tests/counts.o \
		-Wl,--start-group $(ROOMS:%=$B/lib%.a) -Wl,--end-group $(CURSES_LIBS) $(LIBS)

# ---- tests: one program a room, linked with that room and those below only -------------------
#
# What tests do themselves takes no time worth the compiler's: they are compiled without optimisation.
TEST_CFLAGS = $(filter-out -O2 -D_FORTIFY_SOURCE=2,$(OWN_CFLAGS)) -O0

$T/tests/%.o: tests/%.c
	@mkdir -p $(@D)
	$(if $(V),,@echo "  cc $<")
	$Q$(CC) $(LOW_CPPFLAGS) -Itests $(CPPFLAGS) $(TEST_CFLAGS) $(filter-out -O%,$(CFLAGS)) -MMD -MP -c -o $@ $<

# The program's own main() by another name, for tests that call it in a child of theirs (tests/cli/straight.c).
$B/program.o: $B/main.o
	$Q$$($(CC) -print-prog-name=objcopy) --redefine-sym main=program_main $< $@
STRAIGHT = -Wl,--wrap=getpwuid,--wrap=gethostname,--wrap=job_open_handbook,--wrap=handbook_free

define suite
$B/check_$(1): $(patsubst tests/%.c,$T/tests/%.o,$(wildcard tests/$(1)/*.c) tests/common.c $(if $(filter job,$(1)),tests/counts.c)) $B/lib$(1).a $(patsubst %,$B/lib%.a,$(call links,$(1))) \
		$(if $(filter cli,$(1)),$B/program.o $T/tests/who.o $B/libtui.a $B/libterminal.a)
	$$Q$$(CC) $$(EXTRA) $$(CFLAGS) $$(LDFLAGS) -o $$@ $$(filter %.o,$$^) -Wl,--start-group $$(filter %.a,$$^) -Wl,--end-group \
		$(if $(filter job,$(1)),$(COUNTED)) $(if $(filter cli,$(1)),$(STRAIGHT)) \
		$(if $(filter cli,$(1)),$$(CURSES_LIBS)) $(if $(filter tui terminal,$(1)),$$(CURSES_LIBS) -lvterm -lutil) $$(shell $$(PKG_CONFIG) --libs check) \
		$(if $(filter store,$(1) $(call links,$(1))),-lsqlite3) -lm
check-$(1): $B/check_$(1) $(if $(filter cli,$(1)),$B/diewright $B/diewright-test)
	sh tests/run.sh $B $B/check_$(1)
endef
SUITES := $(patsubst tests/%/,%,$(dir $(wildcard $(ROOMS:%=tests/%/check_*.c))))
$(foreach r,$(SUITES),$(eval $(call suite,$r)))

# The whole program, through a terminal in memory.
$B/check_screen: $(patsubst tests/%.c,$T/tests/%.o,$(wildcard tests/screen/*.c) tests/common.c) $B/libbase.a
	$Q$(CC) $(EXTRA) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lvterm -lutil $(shell $(PKG_CONFIG) --libs check) -lm
# The cases of the two suites that wait most, for a terminal or for the program, are runs of their own beside each other.
cases = $(patsubst %,$B/check_$(1)@%,$(shell sed -n 's/.*tcase_create("\([a-z]*\)").*/\1/p' tests/$(1)/*.c))
SCREENS = $(call cases,screen)
check-screen: $B/check_screen $B/diewright-test
	sh tests/run.sh $B $(SCREENS)

# README and manual as printed.
$B/check_pages: $(patsubst tests/%.c,$T/tests/%.o,$(wildcard tests/pages/*.c) tests/screen/bed.c tests/screen/play.c tests/common.c) $B/libbase.a
	$Q$(CC) $(EXTRA) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lvterm -lutil $(shell $(PKG_CONFIG) --libs check) -lm
check-pages: $B/check_pages $B/diewright-test
	sh tests/run.sh $B $B/check_pages

# The trade against the outside: published tables, laws, whole sets.
$B/check_outside: $(patsubst tests/%.c,$T/tests/%.o,$(wildcard tests/outside/*.c) tests/common.c) $B/libjob.a $(patsubst %,$B/lib%.a,$(call links,job))
	$Q$(CC) $(EXTRA) $(CFLAGS) $(LDFLAGS) -o $@ $(filter %.o,$^) -Wl,--start-group $(filter %.a,$^) -Wl,--end-group \
		$(shell $(PKG_CONFIG) --libs check) -lsqlite3 -lm
check-outside: $B/check_outside
	sh tests/run.sh $B $B/check_outside

# Readers of text from outside, fed with what the fuzzer has kept. `make fuzz FUZZ=formula FUZZ_SECONDS=600` looks for more.
TARGETS = formula record csv job
FUZZ ?= $(TARGETS)
FUZZ_SECONDS ?= 60
$B/check_fuzz: $(patsubst tests/%.c,$T/tests/%.o,tests/fuzz/check_fuzz.c tests/fuzz/mutated.c tests/fuzz/targets.c \
		tests/store/work.c tests/common.c) $(patsubst %,$B/lib%.a,$(sort job report $(call links,job) $(call links,report)))
	$Q$(CC) $(EXTRA) $(CFLAGS) $(LDFLAGS) -o $@ $(filter %.o,$^) -Wl,--start-group $(filter %.a,$^) -Wl,--end-group \
		$(shell $(PKG_CONFIG) --libs check) -lsqlite3 -lm
check-fuzz: $B/check_fuzz
	sh tests/run.sh $B $B/check_fuzz
fuzz:
	@$(MAKE) --no-print-directory CC=clang B=build-fuzz EXTRA='-fsanitize=fuzzer-no-link,address,undefined' \
		$(FUZZ:%=build-fuzz/fuzz_%)
	@for t in $(FUZZ); do mkdir -p build-fuzz/found/$$t && \
		build-fuzz/fuzz_$$t -max_total_time=$(FUZZ_SECONDS) -max_len=4096 -timeout=20 -artifact_prefix=build-fuzz/found/$$t- \
			build-fuzz/found/$$t tests/fuzz/corpus/$$t || exit 1; done
$B/fuzz_%: tests/fuzz/entry.c $T/tests/fuzz/targets.o $(patsubst %,$B/lib%.a,$(sort job report $(call links,job) $(call links,report)))
	$Q$(CC) $(LOW_CPPFLAGS) $(OWN_CFLAGS) $(CFLAGS) -DTARGET=fuzz_$* -fsanitize=fuzzer,address,undefined -o $@ \
		$< $T/tests/fuzz/targets.o -Wl,--start-group $(filter %.a,$^) -Wl,--end-group -lsqlite3 -lm

# The longest first, so that no processor waits for one at the end.
LONGEST = job store explore
PROGRAMS = $(SCREENS) $(LONGEST:%=$B/check_%) $(call cases,cli) $(patsubst %,$B/check_%,$(filter-out cli $(LONGEST),$(SUITES))) \
	$B/check_outside $B/check_fuzz $B/check_pages
SANITIZE = B=build-san EXTRA='-fsanitize=address,undefined -fno-sanitize-recover=all -U_FORTIFY_SOURCE'
# Without line-by-line optimisation they take half as long to compile and hardly longer to run.
QUICKLY = T=build CFLAGS='-O1 -g1'
# In `check` all tests run plain, and those of the lowest rooms, where texts are read and memory is handed out, with the
# sanitizers too. The whole program with the sanitizers takes longer to compile than to test: check-long has it.
SANITIZED = $(patsubst %,$B/check_%,base unit record typed shape formula draw table model)
sanitized: $(SANITIZED)

programs: all $B/diewright-test $(sort $(foreach p,$(PROGRAMS),$(firstword $(subst @, ,$p))))

check-once: programs
	sh tests/run.sh $B $(PROGRAMS)

# Plain and then with the sanitizers; the last line is the sum of both. What is compiled for it knows its lines for a
# debugger and no variables, which saves a tenth of the compiler's time.
check:
	@sh tests/deps.sh run check
	@$(MAKE) --no-print-directory -j$(JOBS) programs CFLAGS='$(CFLAGS) -g1'
	@$(MAKE) --no-print-directory floors sources
	@B=build sh tests/screen/tmux.sh & stories=$$!; \
		$(MAKE) --no-print-directory -j$(JOBS) sanitized $(SANITIZE) $(QUICKLY) && wait $$stories
	@sh tests/run.sh build $(PROGRAMS:$B/%=build/%) -- build-san $(SANITIZED:$B/%=build-san/%)

# What takes longer: more kills, more keys with and without the sanitizers, packages that are large.
# Keys by a seed of the hour, so that each time others are tried; with the sanitizers by three kept ones (20261130,
# 20269049, 20276968: tests/screen/fuzz.c), a third of the keys each, so that it repeats.
check-long: export DIEWRIGHT_KEYS = 200000
check-long:
	@sh tests/deps.sh run check long
	@$(MAKE) --no-print-directory -j$(JOBS) programs
	@DIEWRIGHT_KILLS=1000 DIEWRIGHT_CUTS=200 DIEWRIGHT_CROWD=600 DIEWRIGHT_MUTATIONS=10000 DIEWRIGHT_SEED=$$(date +%s) $(MAKE) --no-print-directory check-once
	@$(MAKE) --no-print-directory -j$(JOBS) programs $(SANITIZE) $(QUICKLY)
	@DIEWRIGHT_SEED=20261130 $(MAKE) --no-print-directory check-once $(SANITIZE) $(QUICKLY)
	DIEWRIGHT=$B/diewright sh tests/longer/reference.sh
	sh tests/shape/judge.sh
	sh tests/solid/kernel.sh

# How quick it is: figures and ratios of one run; nothing passes or fails by them.
$B/bench: $(patsubst tests/%.c,$T/tests/%.o,$(wildcard tests/bench/*.c) tests/screen/bed.c tests/common.c) \
		$(patsubst %,$B/lib%.a,job explore $(call links,job))
	$Q$(CC) $(EXTRA) $(CFLAGS) $(LDFLAGS) -o $@ $(filter %.o,$^) -Wl,--start-group $(sort $(filter %.a,$^)) -Wl,--end-group \
		-lvterm -lutil $(shell $(PKG_CONFIG) --libs check) -lsqlite3 -lm
bench: $B/bench $B/diewright $B/diewright-test
	B=$B $B/bench
# ... and its table kept
bench-kept: $B/bench $B/diewright $B/diewright-test
	@{ sed '/^    on /,$$d' tests/bench/RESULTS.md; B=$B $B/bench | sed '/^Running\|^100%/d; s/^/    /'; } >$B/RESULTS.part
	@mv $B/RESULTS.part tests/bench/RESULTS.md

demo:
	@sh tests/deps.sh run
	@$(MAKE) --no-print-directory -j$(JOBS) all
	@sh tests/demo/demo.sh $B/diewright $B/demo

# Rooms are held against src/FLOORS, what prints beside the door is found, and so are files of a room that lean on each
# other in a ring; what is read of a handbook by name stands in the one list.
floors: $(OBJECTS)
	@sh tests/floors.sh
	@sh tests/door.sh
	@python3 tests/rings.py $B
	@python3 tests/contract.py

# Sources of the handbook by class, and none that is a host, a seller or a calculator.
sources:
	@sh tests/sources.sh

# Pictures and papers that tests compare with, written anew: read the difference before it is committed.
goldens: programs
	KEEP=1 sh tests/run.sh $B $B/check_view $B/check_report $B/check_screen@cases $B/check_pages

# A place for editors to read how each file is compiled.
compile_commands.json: Makefile $(SOURCES)
	@{ echo '['; for f in $(SOURCES); do \
		printf '  {"directory": "%s", "file": "%s", "command": "%s -c %s"},\n' '$(CURDIR)' "$$f" \
			'$(subst ",\\\",$(subst ',,$(CC) $(LOW_CPPFLAGS) $(OWN_CFLAGS)))' "$$f"; done | sed '$$s/,$$//'; echo ']'; } >$@

# Lines of C over 110 columns are laid out anew, all others stay as they were written.
LONG = LC_ALL=C.UTF-8 grep -nE '.{111,}'
format:
	@for f in $$(git ls-files '*.[ch]'); do \
		lines=$$($(LONG) $$f | sed 's/\([0-9]*\):.*/ --lines=\1:\1/'); \
		[ -z "$$lines" ] || clang-format -i $$lines $$f; done
	@! $(LONG) $$(git ls-files '*.[ch]')

# Which lines and branches the suites of the rooms reach, room by room.
coverage:
	@$(MAKE) --no-print-directory B=build-cov CFLAGS=-O0 EXTRA=--coverage check-once
	@sh tests/coverage.sh build-cov

# One figure or sign changed at a time: does the room's suite notice? Some half an hour on two processors.
mutants:
	python3 tests/mutants.py $(MUTANTS)

DIST = diewright-$(VERSION)
dist:
	git archive --format=tar.gz --prefix=$(DIST)/ -o $(DIST).tar.gz HEAD
	@echo $(DIST).tar.gz

lint:
	cppcheck -q --std=c11 --enable=warning,portability -Iinclude -Isrc src
	shellcheck tests/*.sh tests/*/*.sh
	mandoc -T lint -W warning man/*.[157]

# ---- installing --------------------------------------------------------------------------------

INSTALL ?= install
install: all
	$(INSTALL) -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/share/man/man1 $(DESTDIR)$(PREFIX)/share/man/man5 \
		$(DESTDIR)$(PREFIX)/share/man/man7
	$(INSTALL) -m 755 $B/diewright $(DESTDIR)$(PREFIX)/bin/
	$(INSTALL) -d $(DESTDIR)$(PREFIX)/share/bash-completion/completions $(DESTDIR)$(PREFIX)/share/zsh/site-functions
	$B/diewright completion bash >$(DESTDIR)$(PREFIX)/share/bash-completion/completions/diewright
	$B/diewright completion zsh >$(DESTDIR)$(PREFIX)/share/zsh/site-functions/_diewright
	$(INSTALL) -d $(DESTDIR)$(PREFIX)/share/applications $(DESTDIR)$(PREFIX)/share/icons/hicolor/scalable/apps
	$(INSTALL) -m 644 data/package/diewright.desktop $(DESTDIR)$(PREFIX)/share/applications/
	$(INSTALL) -m 644 data/package/diewright.svg $(DESTDIR)$(PREFIX)/share/icons/hicolor/scalable/apps/
	for s in 1 5 7; do $(INSTALL) -m 644 man/*.$$s $(DESTDIR)$(PREFIX)/share/man/man$$s/; done
	for d in handbook parts templates demo practice; do \
		$(INSTALL) -d $(DESTDIR)$(PREFIX)/share/diewright/$$d && \
		$(INSTALL) -m 644 data/$$d/* $(DESTDIR)$(PREFIX)/share/diewright/$$d/ || exit 1; done

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/diewright $(DESTDIR)$(PREFIX)/share/bash-completion/completions/diewright \
		$(DESTDIR)$(PREFIX)/share/zsh/site-functions/_diewright \
		$(DESTDIR)$(PREFIX)/share/applications/diewright.desktop \
		$(DESTDIR)$(PREFIX)/share/icons/hicolor/scalable/apps/diewright.svg
	for m in man/*.[157]; do s=$${m##*.}; rm -f $(DESTDIR)$(PREFIX)/share/man/man$$s/$${m##*/}; done
	rm -rf $(DESTDIR)$(PREFIX)/share/diewright

# A Debian package, without root.
deb:
	rm -rf build-deb
	$(MAKE) install B=build-deb/build PREFIX=/usr DESTDIR=build-deb/stage
	sh data/package/deb.sh build-deb/stage $(VERSION) build-deb/diewright_$(VERSION).deb

clean:
	rm -rf build build-*

-include $(OBJECTS:.o=.d) $(wildcard $T/tests/*.d $T/tests/*/*.d)

.PHONY: all bench bench-kept goldens check-pages programs sanitized check check-once check-long check-screen check-outside demo floors sources lint install uninstall clean $(SUITES:%=check-%)
.PHONY: coverage deb dist format fuzz check-fuzz mutants
