"""The pages: views by purpose in `pages/`, their templates in `templates/web/`.

Pages get every lifter from `store.access` and do everything through `verbs`."""
