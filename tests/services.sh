#!/usr/bin/env bash
# Run a command with what the tests need beyond Python: a browser, and a PostgreSQL server of the run's own.
# What is missing comes from Debian's packages where this user may install them, the browser else from its library.
set -euo pipefail

become=()  # how to install: as the superuser, or as somebody who may become one without a password
may_install() {
  command -v apt-get >/dev/null || return 1
  [ "$(id -u)" = 0 ] && return 0
  become=(sudo -n)
  sudo -n true 2>/dev/null
}
find_initdb() { ls /usr/lib/postgresql/*/bin/initdb 2>/dev/null | sort -V | tail -n 1; }

install_packages() {
  local packages=() clusters=/etc/postgresql-common/createcluster.conf
  apt() { "${become[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq "$@" >/dev/null; }
  if [ -n "$wants_browser" ]; then packages+=(chromium fonts-dejavu-core libatomic1); fi
  if [ -n "$wants_server" ]; then packages+=(postgresql); fi
  echo "Installing Debian's ${packages[*]}, which the tests use."
  apt update
  if [ -n "$wants_server" ]; then
    # The package would also start a server that nobody asked for.
    apt install --no-install-recommends -y postgresql-common
    "${become[@]}" sed -i '$a create_main_cluster = false  # while the tests install' "$clusters"
  fi
  apt install --no-install-recommends -y "${packages[@]}"
  if [ -n "$wants_server" ]; then "${become[@]}" sed -i '/# while the tests install$/d' "$clusters"; fi
}

browser_installed() {
  .venv/bin/python -m playwright --version >/dev/null 2>&1 || return 1  # its driver misses libatomic on a bare machine
  command -v chromium >/dev/null || .venv/bin/python - <<'PYTHON'
import os, sys
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    sys.exit(not os.path.exists(playwright.chromium.executable_path))
PYTHON
}

start_server() {
  local programs folder port
  programs=$(dirname "$(find_initdb)")
  folder=$(mktemp -d)
  port=$(.venv/bin/python -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])')
  server_control=("$programs/pg_ctl" -s -D "$folder/cluster")
  if [ "$(id -u)" = 0 ]; then  # the server refuses to run as the superuser
    chown postgres "$folder"
    as_owner=(runuser -u postgres --)
  fi
  trap '"${as_owner[@]}" "${server_control[@]}" -m immediate stop || true; rm -rf "'"$folder"'"' EXIT
  (
    cd "$folder"
    "${as_owner[@]}" "$programs/initdb" -D cluster -A trust -U evenhand >/dev/null
    "${as_owner[@]}" "${server_control[@]}" -w -l "$folder/log" \
      -o "-p $port -c listen_addresses=127.0.0.1 -c unix_socket_directories=$folder" start
  )
  export EVENHAND_TEST_POSTGRES="postgresql+psycopg://evenhand@127.0.0.1:$port/postgres"
}

wants_browser='' wants_server='' as_owner=()
browser_installed || wants_browser=yes
if [ -z "${EVENHAND_TEST_POSTGRES:-}" ] && [ -z "$(find_initdb)" ]; then wants_server=yes; fi
if [ -n "$wants_browser$wants_server" ]; then
  if may_install; then
    install_packages
  else
    if [ -n "$wants_browser" ]; then
      echo "Installing the browser library's own Chromium for this user, which the tests use."
      .venv/bin/python -m playwright install chromium
    fi
    if [ -n "$wants_server" ]; then
      echo "The tests want a PostgreSQL server, and this user may not install one: install Debian's package postgresql," \
        "or put the address of a server that may be written to into EVENHAND_TEST_POSTGRES." >&2
      exit 2
    fi
  fi
fi
if [ -z "${EVENHAND_TEST_POSTGRES:-}" ]; then start_server; fi
"$@"
