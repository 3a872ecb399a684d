"""The pages: one file a page in `pages/`, its template beside it in `templates/web/`.

Pages get every lifter from `store.access` and do everything through `verbs`.
"""
