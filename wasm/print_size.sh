#!/usr/bin/env bash
# Prints a file's size as it is and as it travels (gzip -9).
set -euo pipefail
echo "$(basename "$1"): $(stat -c %s "$1") bytes, $(gzip -9 -c "$1" | wc -c) gzipped"
