# make demo   builds dryfit and does the main job on the tram
# make test   installs or names what the tests need, and runs them all

GO      := go
export CGO_ENABLED ?= 0
BIN     := bin/dryfit
OUT     := out

.PHONY: demo build pages test tools vet fmt race bench soak mutants clean update

build: pages
	$(GO) build -trimpath -o $(BIN) ./cmd/dryfit

# pages bundles the user interface, which is built into the program.
pages:
	@scripts/ui.sh

demo: build
	@mkdir -p $(OUT)
	$(BIN) prove examples/quay-tram.yaml
	$(BIN) stock examples/quay-tram.yaml > $(OUT)/quay-tram-stock.txt
	$(BIN) patterns examples/quay-tram.yaml -o $(OUT)/quay-tram-a4.pdf --paper a4
	$(BIN) patterns examples/quay-tram.yaml -o $(OUT)/quay-tram-letter.pdf --paper letter
	$(BIN) picture examples/quay-tram.yaml -o $(OUT)/quay-tram.png
	$(BIN) pack examples/quay-tram.yaml -o $(OUT)/quay-tram.pdf
	$(BIN) guide examples/quay-tram.yaml -o $(OUT)/quay-tram.html
	$(BIN) layout examples/quay-tram.yaml --shop examples/shop/quay-lane.yaml --count 2 -o $(OUT)/quay-tram-boards.pdf
	@echo
	@echo "the proof is above; $(OUT)/quay-tram.pdf has guide and patterns, and beside it are pattern sheets, picture and lists"

test: tools
	@scripts/test.sh

tools:
	@scripts/tools.sh

vet:
	$(GO) vet ./...

fmt:
	gofmt -w $$(git ls-files '*.go')

race: tools
	CGO_ENABLED=1 $(GO) test -race -timeout 60m ./...

# update writes golden files anew; look at every one of them before committing.
update:
	$(GO) test ./... -run Golden -update

bench:
	@scripts/bench.sh

soak:
	@scripts/soak.sh

# mutants puts faults into the checks, one at a time, and sees that the tests catch them.
mutants:
	DRYFIT_MUTANTS=1 $(GO) test ./mutants -run Caught -count=1 -v -timeout 3h

clean:
	rm -rf bin $(OUT) app/ui/node_modules app/ui/dist/*.* oracle/node_modules exchange/validator/node_modules
