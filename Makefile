# Targets a newcomer guesses. Every one works on a clean clone.
GO ?= go

VERSION ?=

.PHONY: release vulncheck demo test bench bench-reading bench-plan bench-audit bench-web bench-shelf bench-load fuzz fuzz-long lint race prepare docs screenshots

demo: ## write the demo workshop, judge its sheets, serve the pages on this machine
	$(GO) run ./cmd/sixteen demo

prepare: ## install what the tests need (as root on Debian), else say what is missing
	@./scripts/prepare

test: prepare ## all tests
	$(GO) test ./...

RACE ?= ./judge ./plan ./read ./read/pdf ./read/ocr ./sheet ./shelf ./web ./web/api
race: ## race detector on the packages where work runs in parallel
	$(GO) test -race -short -timeout 20m -skip 'Kill|TheWholeWay|EveryScreen|DropADocument|WithoutScripts|OneFile' $(RACE)

bench: prepare ## speed and accuracy figures with their reference in the same run (docs/figures.md)
	$(GO) run ./cmd/figures
	$(GO) run ./cmd/figures plan

bench-reading: prepare ## the reader's accuracy per field on generated sheets
	$(GO) run ./cmd/figures reading

bench-plan: ## speed and numerical error of the air model beside a general method
	$(GO) run ./cmd/figures plan

bench-audit: prepare ## planted faults found and false contradictions, on generated sheets
	$(GO) run ./cmd/figures audit

bench-web: ## server time and weight of each screen on a large shelf, and cold start
	$(GO) run ./cmd/figures web

bench-shelf: prepare ## what the register takes to answer with 10,000 sheets, on both stores
	$(GO) run ./cmd/figures shelf

bench-load: prepare ## fifty readers and five uploaders for five minutes on each store
	$(GO) run ./cmd/figures load

fuzz: ## every fuzz target for FUZZTIME each (default 10s)
	@./scripts/fuzz $(or $(FUZZTIME),10s)

fuzz-long: ## go on with the least fuzzed targets for FUZZTIME (default 30m); docs/fuzzing.csv says what each has had
	$(GO) run ./cmd/fuzz -for $(or $(FUZZTIME),30m)

lint: ## format, vet, staticcheck
	@test -z "$$(gofmt -l $$(git ls-files '*.go'))" || { gofmt -l $$(git ls-files '*.go'); echo "run gofmt -w on these files"; exit 1; }
	$(GO) vet ./...
	$(GO) tool staticcheck ./...

docs: ## write the generated pages of docs/ anew
	$(GO) test ./audit -run Documented -update
	UPDATE=1 $(GO) test ./classify -run RulesPage
	$(GO) generate ./substance

screenshots: ## take the pictures of docs/screenshots anew
	$(GO) test ./web -run EveryScreen -update

release: ## programs for every system, Debian packages, list of parts and sums in dist/
	./scripts/release $(VERSION)

vulncheck: ## known vulnerabilities in what the program uses; says so when the database cannot be reached
	@./scripts/vulncheck
