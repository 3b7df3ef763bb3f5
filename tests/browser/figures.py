"""The figures in a page against those of --json: every number in a table, and what it is shown as."""

CELLS = """[...document.querySelectorAll('figure')].flatMap(f => [...f.querySelectorAll('tbody tr')].flatMap((tr, row) =>
  [...tr.querySelectorAll('td[data-si]')].map(td => ({figure: f.id, row, name: tr.dataset.name, key: td.dataset.key,
  si: +td.dataset.si, text: td.textContent, vacuum: td.hasAttribute('data-u')}))))"""


def by_name(items, name):
    return next((item for item in items if item["name"] == name), None)


def deep(value, keys):
    for key in keys:
        value = value[key]
    return value


def expected(report, cell):
    """What --json has for a cell; None for what is not in it, such as a sum."""
    key, name = cell["key"].split("."), cell["name"]
    if key[0] == "steady":
        answer = report["steady"][0] if key[1] == "usual" else next(s for s in report["steady"] if s["tip"] == key[1])
        return by_name(answer["elements"], name)[key[2]]
    if key[0] == "rank":
        element = by_name(report["rank"]["elements"], name)
        if element is not None:
            return element[key[1]]
        return report["rank"]["total_loss_pa"] if key[1] == "fair_share_pa" else None
    if key[0] == "bands":
        return next(o for o in report["rank"]["bands"]["outputs"] if o["key"] == key[2] and o["name"] == name)[key[1]]
    if key[0] == "strip":
        step = next(s for s in report["strip"]["steps"] if s["cap"] == name)
        return next(r for r in step["readings"] if r["at"] == report["strip"]["judge"])[key[1]]
    if key[0] in ("rise", "cycle"):
        samples = report[key[0]]["samples"]
        stride = max(1, (len(samples) + 23) // 24)
        here, series = samples[cell["row"] * stride], cell["key"].split(".", 1)[1]
        if key[0] == "rise":
            return here["vacuum_pa"][series.removesuffix(", gauge")]
        name, _, place = series.rpartition(", ")
        return here[place + "_vacuum_pa"][name] if place in ("mouth", "gauge") else here["source_vacuum_pa"][series]
    if key[0] == "pump":
        return next(d for d in report["pump"]["demands"] if d["tip"] == name)[key[1]]
    if key[0] in ("joint", "pumps"):
        return by_name(report[key[0]]["ways" if key[0] == "joint" else "pumps"], name)[key[1]]
    if key[0] == "hunt":
        return deep(by_name(report["hunt"]["elements"], name), key[1:])
    if key[0] == "sense":
        state = next(s for s in report["sense"]["states"] if s["name"] == name)
        return state[key[1]]
    raise KeyError(cell["key"])


MATRIX = """[...document.querySelectorAll('#parts tbody tr')].map(tr =>
  [tr.dataset.name, [...tr.querySelectorAll('td')].map(td => td.textContent)])"""
DRAWN = """(kind => [...document.querySelectorAll('#parts svg.' + kind + ' .value')].map(t => t.textContent))('%s')"""


def matrix(that, browser, report):
    """Parts by nozzles: the words of --json in the table and, in some order, in both drawings."""
    if "pumps" not in report:
        return
    own = next(pump for pump in report["pumps"]["pumps"] if pump["own"])["matrix"]
    that(browser.ask(MATRIX) == [list(row) for row in zip(report["pumps"]["parts"], own)], "the matrix is not that of --json")
    for kind in ("wide", "narrow"):
        that(sorted(browser.ask(DRAWN % kind)) == sorted(sum(own, [])), "the %s matrix is not that of --json" % kind)


def compare(that, browser, report):
    matrix(that, browser, report)
    for key, figure in (("joint", "joint"), ("pumps", "parts"), ("hunt", "hunt"), ("sense", "sensing"), ("cycle", "cycle")):
        that(browser.ask("!!document.getElementById('%s')" % figure) == (key in report), "%s: the picture and --json differ" % figure)
    cells = browser.ask(CELLS)
    that(len(cells) > 40, "only %d figures on the page" % len(cells))
    compared = 0
    for cell in cells:
        where = "%s, %s, %s: " % (cell["figure"], cell["name"], cell["key"])
        want = expected(report, cell)
        if want is not None:
            compared += 1
            # Both were written with the digits that bring the same double back; hunt divides by its unit twice.
            that(abs(cell["si"] - want) <= 1e-12 * abs(want), where + "%r on the page, %r in --json" % (cell["si"], want))
        if cell["vacuum"] and not cell["text"].startswith("<"):
            # Shown in kPa to a tenth or finer: half a step off at most.
            step = 10.0 ** -len(cell["text"].partition(".")[2])
            that(step <= 0.1 and abs(float(cell["text"]) - cell["si"] / 1000) <= 0.501 * step,
                 where + "%r Pa is shown as %s kPa" % (cell["si"], cell["text"]))
    that(compared > 40, "only %d figures were compared" % compared)
