#!/bin/sh
# Installs what the tests need beside Python: a browser, node, a PostgreSQL to throw away, a proxy.
# Does nothing where they are there already. Usage: install_test_tools.sh
set -eu

have() { command -v "$1" >/dev/null 2>&1; }
if [ "$(id -u)" = 0 ]; then as_root="" unasked=""; else as_root="sudo" unasked="sudo -n"; fi

missing=""
have chromium || have chromium-browser || have google-chrome || missing="$missing chromium"
have node || missing="$missing nodejs"
have initdb || ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 \
    || ls /opt/homebrew/opt/postgresql*/bin/initdb >/dev/null 2>&1 || missing="$missing postgresql"
have nginx || [ -x /usr/sbin/nginx ] || missing="$missing nginx"

# The browser without its windows takes half the processor's time. It is asked for once, where the
# system's packages have it; without it the tests take the whole one.
asked=.venv/.bare_browser_asked
if have apt-get && ! have chromium-headless-shell && [ ! -e "$asked" ]; then
    { $unasked apt-get -o Acquire::Retries=0 -o Acquire::http::Timeout=20 update -qq \
        && DEBIAN_FRONTEND=noninteractive $unasked apt-get install -y -qq \
            --no-install-recommends chromium-headless-shell; } </dev/null >/dev/null 2>&1 \
        || echo "No browser without windows to be had: the tests take the whole one." >&2
    [ ! -d .venv ] || touch "$asked"
fi
[ -n "$missing" ] || exit 0

echo "Installing for the tests:$missing" >&2
if have apt-get; then
    # Only the server's programs are wanted, not a database that starts with the machine.
    if [ ! -e /etc/postgresql-common/createcluster.conf ]; then
        $as_root mkdir -p /etc/postgresql-common
        echo "create_main_cluster = false" | $as_root tee /etc/postgresql-common/createcluster.conf >/dev/null
    fi
    $as_root apt-get update -qq
    # The same for the proxy: its light package, and no service started for it.
    missing=$(echo "$missing" | sed 's/nginx/nginx-light/')
    # shellcheck disable=SC2086 (a list of package names)
    DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing
elif have dnf; then
    names=$(echo "$missing" | sed 's/postgresql/postgresql-server/')
    # shellcheck disable=SC2086
    $as_root dnf install -y -q $names
elif have brew; then
    names=$(echo "$missing" | sed 's/nodejs/node/')
    # shellcheck disable=SC2086
    brew install --quiet $names
else
    echo "Install these with your system's packages, then run make test again:$missing" >&2
    exit 2
fi
