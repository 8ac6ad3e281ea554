"""The workshop app: pages in the browser, on the maker's own machine.

Thin, as the command line is: read, call, show.  fastapi, jinja2 and uvicorn are used here and nowhere else.
"""
