"""The site's rows: lifters, blocks, facts, proposals, decisions, and who may see them.

`models` is for `store` and `verbs` only; `convert` is the only mapper between rows and engine
values; `access` is the one gate. Never imports files, sheets or anything above."""
