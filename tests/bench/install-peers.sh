#!/bin/sh
# Installs the general-purpose software the benches compare with, from Debian:
# SciPy for curve fitting. Never run by tests or CI; a bench without its peer
# prints "peer absent, not compared".
set -eu
run() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }
run apt-get update
run apt-get install -y --no-install-recommends python3-scipy python3-pandas r-base-core r-cran-nlme r-cran-lme4 r-cran-data.table
