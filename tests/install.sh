#!/usr/bin/env bash
# Installs what the tests need beside the toolchain: a browser and its driver, and PostgreSQL, from Debian's packages.
# Does nothing where all are there already; may be run any number of times.
set -euo pipefail

wanted=()
command -v chromium >/dev/null || wanted+=(chromium)
command -v chromedriver >/dev/null || wanted+=(chromium-driver)
compgen -G "/usr/lib/postgresql/*/bin/initdb" >/dev/null || wanted+=(postgresql)
if ((${#wanted[@]} == 0)); then
    exit 0
fi
if ((EUID != 0)) || ! command -v apt-get >/dev/null; then
    echo "The tests of the porch and of the store want ${wanted[*]}: install them by hand, or run this as root on Debian." >&2
    exit 0
fi
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq
apt-get install -y -qq --no-install-recommends "${wanted[@]}" >/dev/null
