"""Where the site is put together: settings, addresses, certificate, the running server."""
