"""Where every number comes from: what it means, its formula with this job's values, its source, how sure it is.

**To add a figure**, write a `[[figure]]` into a TOML file in this folder; every `*.toml` here is read, so use a file
of your own. No Python is needed where its values stand in the record. On a page, ask with the macro `ask` of
`_whence_mark.html`, which makes `<a href="/jobs/{job}/whence/{id}?event={number}" hx-get="..." hx-target="#whence">`.
A figure looks like this:

    [[figure]]
    id = "heat-input"                      # in the address; letters, digits and hyphens, once in all files
    title = "Heat input"
    means = "What it is, in a sentence or two, in words of the trade."
    formula = "Q = k · U · I / v"          # as a handbook prints it; "" where there is none
    arithmetic = "k * U * I / v"           # optional: the same over the symbols below (+ - * / ** sqrt max min abs pi);
    unit = "J/mm"                          # it is worked out and shown with its values, in this unit
    value = "plan.totals.bench_min"        # optional: where the figure itself stands; must agree with `arithmetic`
    band = "plan.totals.band.distortion_mm"    # optional: table with low, (middle,) high
    band_holds = 80                        # how many of a hundred cases lie within it: 80, left out, or 90
    source = "EN 1011-1:2009"              # standard, handbook, paper; year and clause
    leaves_out = "What nobody should read into it."
    theory = "theory/weld.md"              # a file of docs/
    inputs = [
      { symbol = "U", words = "arc voltage", from = "job.welder.volts", unit = "V" },
      { words = "readings used", from = "check.used" },
    ]

`from`, `value` and `band` name a place (`places.py`):

| begins with | looks in |
|---|---|
| `job.` | the job file the result stands on, by its own keys; the page names the key |
| `plan.`, `check.`, `correction.` | plan.json, straightness.json, correction.json of the event or of one it stands on |
| `this.` | the plan asked for: `of=ours` or `of=common` (common practice) |
| `piece.` | the bead or tack asked for: `piece=C7`, of `this` |
| `worked.` | a function in `worked_out.py` |
| `figure.` | another figure, by its id: its value, and a link to it |
| `constant` | `value` of the input itself, with `note` saying where it is from |

Dots go into tables; a number picks from a list (`check.axis.0`), `{piece}` stands for the piece asked for. Units follow
from the job file's field or the end of the key (`_mm`, `_c`, `_min`, `_s`, `_deg`, `_kj`, `_kn`, `_mpa`) and are
converted to the input's `unit`. `tests/tasks/test_whence.py` walks all figures: fields and theory pages must exist,
arithmetic must agree.
"""
