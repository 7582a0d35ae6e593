# make demo and make test are the two commands a newcomer needs; both set up what they use.

GO      ?= go
BIN     := bin/fewtubes
FUZZ    ?= 10s
PKGS    := ./...

.PHONY: demo test short fuzz bench fmt lint build browser

build:
	$(GO) build -o $(BIN) ./cmd/fewtubes

demo: build
	$(BIN) choose testdata/salt-marsh.toml --html bin/salt-marsh.html --force
	@echo "The same answer as a page: bin/salt-marsh.html" >&2

test: lint short fuzz

short: browser
	$(GO) test $(PKGS)

# Every fuzz target in turn, FUZZ of time each; `make fuzz FUZZ=10m` is the long run.
# Left alone, making one find smaller may take a minute and use up all of it.
fuzz:
	@set -e; for pkg in $$($(GO) list $(PKGS)); do \
	  for target in $$($(GO) test -list '^Fuzz' $$pkg | grep '^Fuzz' || true); do \
	    echo "fuzz $$pkg $$target $(FUZZ)"; \
	    $(GO) test -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZ) -fuzzminimizetime 10x $$pkg; \
	  done; \
	done

bench:
	$(GO) test -run '^$$' -bench . -benchmem $(PKGS)

fmt:
	gofmt -w cmd solver gamut catalog

lint:
	@unformatted=$$(gofmt -l cmd solver gamut catalog); \
	  if [ -n "$$unformatted" ]; then echo "gofmt: $$unformatted (make fmt mends it)"; exit 1; fi
	$(GO) vet $(PKGS)
	$(GO) tool staticcheck $(PKGS)

# The report is checked in a real browser; Debian's chromium is fetched where it is missing.
browser:
	@command -v chromium >/dev/null || { \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && $$as_root apt-get install -y -qq chromium; }
