#!/usr/bin/env bash
# Writes the replay of every practice case anew (what it says, and every figure), and shows what changed since the last
# commit. Read that to its end before committing: these files are what the tests hold the advice to.
set -euo pipefail
cd "$(dirname "$0")/../.."
STANCH_APPROVE=1 build/release/bin/core_tests --gtest_brief=1 --gtest_filter='*ApprovedReplay*'
git --no-pager diff --stat -- tests/approved
git --no-pager diff -- tests/approved
