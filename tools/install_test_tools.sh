#!/bin/sh
# Installs what the tests need beside Python: a browser, node, a PostgreSQL to throw away, a proxy.
# Does nothing where they are there already. Usage: install_test_tools.sh
set -eu

missing=""
command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1 \
    || command -v google-chrome >/dev/null 2>&1 || missing="$missing chromium"
command -v node >/dev/null 2>&1 || missing="$missing nodejs"
command -v initdb >/dev/null 2>&1 || ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 \
    || ls /opt/homebrew/opt/postgresql*/bin/initdb >/dev/null 2>&1 || missing="$missing postgresql"
command -v nginx >/dev/null 2>&1 || [ -x /usr/sbin/nginx ] || missing="$missing nginx"
[ -n "$missing" ] || exit 0

echo "Installing for the tests:$missing" >&2
if [ "$(id -u)" = 0 ]; then as_root=""; else as_root="sudo"; fi
if command -v apt-get >/dev/null 2>&1; then
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
elif command -v dnf >/dev/null 2>&1; then
    names=$(echo "$missing" | sed 's/postgresql/postgresql-server/')
    # shellcheck disable=SC2086
    $as_root dnf install -y -q $names
elif command -v brew >/dev/null 2>&1; then
    names=$(echo "$missing" | sed 's/nodejs/node/')
    # shellcheck disable=SC2086
    brew install --quiet $names
else
    echo "Install these with your system's packages, then run make test again:$missing" >&2
    exit 2
fi
