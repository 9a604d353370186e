#!/bin/sh
# Rewrites requirements.lock from pyproject.toml: every package pinned, with hashes and without addresses. Needs uv.
set -eu
cd "$(dirname "$0")/.."
uv export --quiet --all-groups --no-emit-project --no-header --no-emit-index-url --no-annotate --output-file requirements.lock >/dev/null
rm -f uv.lock
