#!/usr/bin/env bash
# Installs what the tests need beside the toolchain, from Debian's packages: a browser and its driver, PostgreSQL, and
# Python for a server of the platform that shares no code with ours.
# Does nothing where all are there already; may be run any number of times.
set -euo pipefail

wanted=()
command -v chromium >/dev/null || wanted+=(chromium)
command -v chromedriver >/dev/null || wanted+=(chromium-driver)
command -v python3 >/dev/null || wanted+=(python3)
compgen -G "/usr/lib/postgresql/*/bin/initdb" >/dev/null || wanted+=(postgresql)
if ((${#wanted[@]} == 0)); then
    exit 0
fi
if ((EUID != 0)) || ! command -v apt-get >/dev/null; then
    echo "The tests want ${wanted[*]}: install them by hand, or run this as root on Debian." >&2
    exit 0
fi
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq
apt-get install -y -qq --no-install-recommends "${wanted[@]}" >/dev/null
