# make demo and make test are the two commands a newcomer needs; both set up what they use.

GO      ?= go
BIN     := bin/fewtubes
FUZZ    ?= 10s
PKGS    := ./...

# The HEIC library calls a decoder of the system where it finds one; this keeps
# to the one it carries, so that pictures decode alike everywhere.
export GOFLAGS += -tags=nodynamic

.PHONY: demo test short bytes processors beside race long certain nearest crash same fuzz always bench benchmarks fmt lint vet-all build browser axe clasp scipy sure soak manual notices release release-check shells

build:
	$(GO) build -o $(BIN) ./cmd/fewtubes

demo: build
	$(BIN) choose testdata/salt-marsh.toml --html bin/salt-marsh.html --force
	@echo "The same answer as a page: bin/salt-marsh.html" >&2

# The manual page and the completions, as the program prints them.
manual: build
	mkdir -p bin/man/man1 bin/completions
	$(BIN) manual > bin/man/man1/fewtubes.1
	$(BIN) completion bash > bin/completions/fewtubes.bash
	$(BIN) completion zsh > bin/completions/_fewtubes
	$(BIN) completion fish > bin/completions/fewtubes.fish

# What `fewtubes notices` shows; a test fails where it is not what go.mod brings in.
notices:
	$(GO) run ./cmd/fewtubes/internal/release -notices

# The last commit for every system, as archives with bills of materials and
# checksums, in bin/release/VERSION.
release:
	$(GO) run ./cmd/fewtubes/internal/release

# The release made twice, the second time from nothing, and compared to the byte; vet
# for every system; the programs for linux run in a root that holds nothing else.
release-check:
	@command -v qemu-aarch64-static >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq qemu-user-static; }
	nice $(GO) test ./cmd/fewtubes/internal/release -count=1 -v -timeout 2h -run TestRelease -whole

# Fuzzing goes on for 2 s a target here, and for 10 s where it is asked for.
test: lint short bytes
	@$(MAKE) --no-print-directory fuzz FUZZ=2s

short: browser axe shells clasp scipy
	$(GO) test $(PKGS)

# The program built for GOAMD64=v3, where the compiler may fuse products into sums,
# against the one built here: no sum fused, and the same bytes.
bytes:
ifeq ($(shell $(GO) env GOARCH),amd64)
	$(GO) test ./cmd/fewtubes -count=1 -v -run TestProcessors -processors amd64.v3
else
	@echo "NOT COMPARED: GOAMD64=v3 is of amd64 alone" >&2
endif

# The same for processors of other kinds, emulated by Debian's qemu-user:
# `make processors PROCESSORS=arm64,s390x`.
PROCESSORS ?= arm64
processors:
	@command -v qemu-aarch64 >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq qemu-user; }
	nice $(GO) test ./cmd/fewtubes -count=1 -v -timeout 3h -run TestProcessors -processors $(PROCESSORS)

# Another build of the program beside this one, for a change that should change no
# answer: `make beside OLD=path`. PICTURES is a folder of photographs to ask about, too.
PICTURES ?= ../shared/photos
beside:
	nice $(GO) test ./cmd/fewtubes -count=1 -v -timeout 1h -run TestBeside -beside $(abspath $(OLD)) -pictures $(if $(wildcard $(PICTURES)),$(abspath $(PICTURES)),"")

# The race detector slows the rest too much to be part of every run.
race: browser axe
	$(GO) test -race ./gamut ./gamut/internal/... ./solver/... ./cmd/fewtubes/internal/page
	$(GO) test -race ./cmd/fewtubes -count=1 -v -run TestSameAnswer -scenes 8

# Writers are killed at 200 moments within a write; `make short` kills at 20.
crash:
	$(GO) test ./cmd/fewtubes -count=1 -v -timeout 30m -run 'TestKilledWhileWriting' -moments 200

# choose over 1, 2 and 4 workers: 200 scenes of 12 to 80 tubes; `make short` takes 8 of up to 14.
same:
	$(GO) test ./cmd/fewtubes -count=1 -v -timeout 2h -run TestSameAnswer -scenes 200 -tubes 80

# Every test with all of its seeded cases, where make test takes some of them.
long: browser axe shells clasp scipy
	FEWTUBES_LONG=1 nice $(GO) test -count 1 -timeout 4h $(PKGS)

# The same for what is certified and for broken proofs, with the figures.
certain:
	FEWTUBES_LONG=1 $(GO) test -count 1 -timeout 30m -v -run 'TestWhatHasRoomIsCertified|TestCheckerDecidesAsRationals' ./solver/internal/certify ./gamut/certain/check

# The nearest mix against an exhaustive reference: 20,000 questions, half an hour of
# processor time, where `make short` asks 320.
nearest:
	FEWTUBES_NEAREST=20000 nice $(GO) test ./gamut/internal/search -count=1 -v -timeout 4h -run '^TestNearest$$'

# Every fuzz target for FUZZ of time, as many at once as there are processors and
# each with one worker; `make fuzz FUZZ=20m` is the long run. Each package is built
# once with the instrumentation, and the inputs found earlier are those of go test.
FUZZ_TARGETS = grep -ro '^func Fuzz[[:alnum:]]*' --include='*_test.go' cmd solver gamut catalog | sed 's|/[^/]*:func | |' | sort

fuzz:
	@$(FUZZ_TARGETS) | sed 's|\(.*\) .*|bin/fuzz/\1.test|' | uniq | xargs $(MAKE) --no-print-directory
	@$(FUZZ_TARGETS) | xargs -P $$(getconf _NPROCESSORS_ONLN) -L 1 sh -c "$$FUZZ_TARGET" fuzz

bin/fuzz/%.test: always
	@$(GO) test -c -fuzz . -o $@ ./$*

# One target, by its folder and name. Left alone, making one find smaller may take a
# minute and use up all of the time. Where the time was over before the engine had
# gone through what it knows, no input was changed: then there is more. The engine
# sometimes reports its own end of time as a failure: such a run wrote no failing
# input and named nothing but the deadline, and only such a run is let pass.
define FUZZ_TARGET
program=$$PWD/bin/fuzz/$$1.test cache=$$($(GO) env GOCACHE)/fuzz/$$($(GO) list ./$$1) log=$$(mktemp); trap 'rm -f $$log' EXIT
cd $$1
for time in $(FUZZ) 30s; do
  $$program -test.run '^$$' -test.fuzz "^$$2\$$" -test.fuzztime $$time -test.fuzzminimizetime 10x -test.parallel 1 -test.fuzzcachedir $$cache >$$log 2>&1 \
    || { grep -q '^ *context deadline exceeded$$' $$log && ! grep -q 'Failing input' $$log; } \
    || { echo "fuzz $$1 $$2 $$time failed"; cat $$log; exit 1; }
  grep -q 'now fuzzing' $$log && { echo "fuzz $$1 $$2 $$time:$$(grep -o ' execs: .*' $$log | tail -n 1)"; exit 0; }
done
echo "fuzz $$1 $$2: no input was changed in $$time"; exit 1
endef
export FUZZ_TARGET

# What is said of plausible boxes: palettes by brute force over all subsets of 12 tubes;
# every colour in 16 boxes by a program in Python; the bound in a third set of 1,000 boxes
# on 20 scenes; and what the usual order puts first on those. PICTURES as above.
sure: scipy
	nice $(GO) test ./solver -count=1 -v -timeout 3h -run TestSureEqualsBruteForce -sure-tubes 12
	nice $(GO) test ./cmd/fewtubes -count=1 -v -timeout 3h -run 'TestHoldsByAnotherProgram|TestBoundHoldsInOtherBoxes|TestUsualOrderOfScenes' \
	  -boxes 16 -seeded 20 -pictures $(if $(wildcard $(PICTURES)),$(abspath $(PICTURES)),"")

# Half an hour of eight painters at the page; what is left over, what stopped how
# soon and what is held are printed. make test runs it for some seconds.
SOAK ?= 30m
soak:
	FEWTUBES_SOAK=$(SOAK) nice $(GO) test -run '^Test(Soak|Left.*)$$' -count=1 -v -timeout 0 ./cmd/fewtubes/internal/page

# One table beside general-purpose methods; cbc and SciPy come from Debian where they
# are missing, and their rows are left out where they cannot be had. `make benchmarks`
# are the parts one by one, for benchstat.
bench:
	@missing=; command -v cbc >/dev/null || missing="$$missing coinor-cbc"; \
	  /usr/bin/python3 -c 'import scipy' 2>/dev/null || missing="$$missing python3-scipy"; \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  [ -z "$$missing" ] || { $$as_root apt-get update -qq && $$as_root apt-get install -y -qq $$missing; } >&2 || true
	$(GO) run ./cmd/yardstick

benchmarks:
	$(GO) test -run '^$$' -bench . -benchmem $(PKGS)

fmt:
	gofmt -w cmd solver gamut catalog

lint:
	@unformatted=$$(gofmt -l cmd solver gamut catalog); \
	  if [ -n "$$unformatted" ]; then echo "gofmt: $$unformatted (make fmt mends it)"; exit 1; fi
	$(GO) vet $(PKGS)
	$(GO) tool staticcheck $(PKGS)

# Every file is compiled and vetted for the systems that people paint beside. The
# first run compiles the standard library for each of them: minutes.
vet-all:
	@set -e; for os in linux darwin windows; do for arch in amd64 arm64; do \
	  echo "vet $$os $$arch"; GOOS=$$os GOARCH=$$arch $(GO) vet $(PKGS); \
	done; done

# The report is checked in a real browser; Debian's chromium is fetched where it is missing.
browser:
	@command -v chromium >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq chromium; }

# The completions are tried in the shells themselves, the manual with mandoc.
shells:
	@command -v zsh >/dev/null && command -v fish >/dev/null && command -v mandoc >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq zsh fish mandoc; }

# Another solver decides what covering proofs are about.
clasp:
	@command -v clasp >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq clasp; }

# Another program tries palettes in plausible boxes, and needs SciPy.
scipy:
	@/usr/bin/python3 -c 'import scipy' 2>/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq python3-scipy; }

# The accessibility checker that the page is held against, pinned by its checksum.
AXE     := bin/axe-4.14.1.min.js
AXE_SUM := e6b0ce02b84d892e2e33e403485e7f3d6c29e2be6df65daf44d89ba564139745

axe: $(AXE)

$(AXE):
	@command -v npm >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq npm; }
	@mkdir -p bin
	cd bin && npm pack --silent axe-core@4.14.1 && \
	  echo "$(AXE_SUM)  axe-core-4.14.1.tgz" | sha256sum -c - && \
	  tar -xzOf axe-core-4.14.1.tgz package/axe.min.js > ../$@.part && mv ../$@.part ../$@ && rm axe-core-4.14.1.tgz
