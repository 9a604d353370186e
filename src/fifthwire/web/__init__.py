"""The office's pages and the interface for other programs: a door over the workflow, at localhost or for a company.

A page is hung like this: a module in `web/pages/` with a `router`, named in `app.PAGES`; each route is a plain function
(run in a thread), takes an `Asking` (who asks, in which units and language, of which register) and, where something is
posted, a `Posted`; it calls one function of `workflow` and answers `asking.page("template.html", ...)` or, after a
change, `asking.go("/where", done="code")`. Every form holds `{{ form_key() }}`. Every text of a template goes through
`_()`. No script or style stands in a page.
"""
