"""How static files get their names."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class ModuleStaticFiles(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """Names with a hash of the content, inside scripts that import each other too: a file never
    changes under its name, so a browser may keep it for ever."""

    support_js_module_import_aggregation = True
