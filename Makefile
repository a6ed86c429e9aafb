# Needs python3 (3.11 or newer, with venv), make and git; everything else is fetched by hash into .tools and .venv.
.DEFAULT_GOAL := help
.PHONY: help demo test lock wheel clean
.DELETE_ON_ERROR:

export UV_PYTHON_DOWNLOADS := never
COMPILE := .tools/bin/uv pip compile -q --universal --generate-hashes --no-emit-index-url --no-header \
	--python-version 3.11 $(if $(UPGRADE),--upgrade)

help: ## say what can be made
	@sed -n 's/^\([a-z]*\):.*## /  make \1\t/p' $(MAKEFILE_LIST) | expand -t 16

demo: .venv/.ok-demo ## set up .venv and show Steelyard at work
	@.venv/bin/python -m compileall -q src
	.venv/bin/steelyard demo

test: .venv/.ok-dev ## set up .venv for development, then check and test everything
	@.venv/bin/python -m compileall -q src
	tests/run

lock: .tools/.ok ## write requirements/*.txt anew (UPGRADE=1: to the newest versions)
	$(COMPILE) -o requirements/uv.txt requirements/uv.in
	$(COMPILE) -o requirements/demo.txt pyproject.toml
	$(COMPILE) -o requirements/dev.txt --extra postgres pyproject.toml requirements/dev.in
	@if grep -rn http requirements; then echo 'requirements/ must name no host' >&2; exit 1; fi

wheel: .venv/.ok-dev ## build dist/*.whl
	rm -rf build dist
	.venv/bin/python -m build --wheel --no-isolation

clean: ## remove all that was made
	rm -rf .venv .tools build dist .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis .coverage \
		mutants src/*.egg-info
	find src tests -name __pycache__ -prune -exec rm -rf {} +

.tools/.ok: requirements/uv.txt
	@python3 -c 'import ensurepip, sys, venv; sys.exit(sys.version_info < (3, 11))' || { \
		echo 'Steelyard needs python3 of version 3.11 or newer with venv (Debian: python3-venv).' >&2; exit 1; }
	python3 -m venv .tools
	.tools/bin/pip install -q --disable-pip-version-check --require-hashes -r $<
	@touch $@

# The lock of dev holds that of demo, so a .venv made for dev serves demo too.
.venv/.ok-%: requirements/%.txt .tools/.ok
	test -x .venv/bin/python || .tools/bin/uv venv -q --python python3 .venv
	@rm -f .venv/.ok-*
	.tools/bin/uv pip sync -q --compile-bytecode --python .venv/bin/python --require-hashes $<
	@.venv/bin/python -c 'import pathlib, sysconfig; \
		pathlib.Path(sysconfig.get_path("purelib"), "steelyard.pth").write_text("$(CURDIR)/src\n")'
	@printf '%s\n' '#!/bin/sh' \
		"'''exec' '$(CURDIR)/.venv/bin/python' \"\$$0\" \"\$$@\"" \
		"' '''" 'from steelyard.cli import main' '' 'main()' >.venv/bin/steelyard
	@chmod +x .venv/bin/steelyard
	@touch .venv/.ok-demo $@
