"""The board: a page that shows the job at a glance, beside the voice and never in place of it.

`view` is what a board shows and `follow` makes it of events and effects, both without a clock, a
thread or a device; `page` turns a view into HTML, `feed` numbers the updates and hands them to
every board that looks, `gate` refuses who is not meant to look, `app` answers over HTTP, `server`
does so in a thread of its own, and `board` puts them together. The voice never waits for any of it.
"""
