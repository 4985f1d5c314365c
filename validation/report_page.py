"""Opens the program's reports in a real browser and looks at them as a reader would.

Usage: report_page.py RIMPROOF [FOLDER]

Phone, tablet and desktop width, with and without script, with a keyboard, on paper, and as PDF. A second survey has
names that try to break out of the page; a third is of a double wrap, with two wheels on its page. Pictures and printed files go to FOLDER for people to look at.
Exit code 0: all is right; 1: something is wrong, each thing in a line; 77: there is no browser on this machine.
"""

import re
import subprocess
import sys
from pathlib import Path

import browser

WIDTHS = {"phone": (360, 740), "tablet": (820, 1180), "desktop": (1440, 900)}
HOSTILE = {
    "name": '<script>alert(1)</script> & "Tower" \\u202Egpj.exe \\u0007\\u0000x',
    "sheave": "מעלית ב׳ </style><img src=http://example.invalid/x>" + " very long name" * 30,
    "surveyor": "电梯 ]]> --> {{x}} 'quoted' &lt;b&gt; " + "x" * 300,
}
# Contrast of every text with the nearest ground behind it (WCAG 2.1, 1.4.3): 4.5, and 3 for large letters.
CONTRAST = """(() => {
  const light = (c) => { const v = c.map((x) => x / 255).map((x) => x <= 0.03928 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4);
    return 0.2126 * v[0] + 0.7152 * v[1] + 0.0722 * v[2]; };
  const read = (text) => { const v = text.match(/[\\d.]+/g).map(Number); return v.length > 3 && v[3] === 0 ? null : v.slice(0, 3); };
  const bad = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const node = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || node.closest("script,style,title") || !node.getClientRects().length) continue;
    const style = getComputedStyle(node);
    const ink = node.closest("svg") ? read(style.fill) : read(style.color);
    let ground = null;
    for (let at = node; at && !ground; at = at.parentElement) ground = read(getComputedStyle(at).backgroundColor);
    const [a, b] = [light(ink), light(ground || [255, 255, 255])];
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    const large = parseFloat(style.fontSize) >= 24 || (parseFloat(style.fontSize) >= 18.6 && Number(style.fontWeight) >= 700);
    if (ratio < (large ? 3 : 4.5)) bad.push(`${ratio.toFixed(2)}: ${walk.currentNode.textContent.trim().slice(0, 40)}`);
  }
  return bad;
})()"""
WIDER = """[...document.querySelectorAll('body *')].filter((e) => !e.closest('.wide, svg') &&
  e.getBoundingClientRect().right > document.documentElement.clientWidth + 1).map((e) => e.outerHTML.slice(0, 80)).slice(0, 3)"""


class Looks:
    """What was found wrong."""

    def __init__(self):
        self.wrong = []
        self.looked = 0

    def check(self, holds, what):
        self.looked += 1
        if not holds:
            self.wrong.append(what)


def hostile_survey(folder):
    text = Path("meshes/harbour.toml").read_text(encoding="utf-8")
    for key, value in HOSTILE.items():
        quoted = value.replace('"', '\\"') if key == "name" else value.replace("\\", "\\\\").replace('"', '\\"')
        text = re.sub(rf"^{key} = .*$", lambda _: f'{key} = "{quoted}"', text, count=1, flags=re.M)
    path = folder / "hostile.toml"
    path.write_text(text, encoding="utf-8")
    return path


def make(program, survey, folder, name, paper):
    files = {kind: folder / f"{name}.{kind}" for kind in ("html", "pdf")}
    done = subprocess.run(
        [program, "check", survey, "--brief", "--paper", paper, "--report", files["html"], "--pdf", files["pdf"]],
        capture_output=True,
        text=True,
    )
    if done.returncode not in (0, 1, 3):
        sys.exit(f"{survey}: {done.stderr}")
    return files


def quiet(page, looks, name):
    """No fault in the console, and nothing fetched but the page itself."""
    kinds = [event.get("method") for event in page.events]
    looks.check("Runtime.exceptionThrown" not in kinds, f"{name}: a script failed")
    logged = [e["params"]["entry"]["text"] for e in page.events if e.get("method") == "Log.entryAdded"]
    looks.check(not logged, f"{name}: the console says {logged}")
    spoken = [e for e in page.events if e.get("method") == "Runtime.consoleAPICalled"]
    looks.check(not spoken, f"{name}: something wrote to the console")
    asked = [e["params"]["request"]["url"] for e in page.events if e.get("method") == "Network.requestWillBeSent"]
    looks.check(len(asked) == 1, f"{name}: the page asked for {asked}")


def widths(page, url, looks, name, folder):
    for device, (wide, high) in WIDTHS.items():
        page.call("Emulation.setDeviceMetricsOverride", width=wide, height=high, deviceScaleFactor=1, mobile=False)
        page.open(url)
        over = page.run("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        looks.check(over <= 0, f"{name}, {device}: {over} px too wide: {page.run(WIDER)}")
        quiet(page, looks, f"{name}, {device}")
        page.picture(folder / f"{name}_{device}.png")


def on_paper(page, url, looks, name, wide):
    """Nothing is wider than the paper's own room, so that the browser shrinks nothing and scales stay true."""
    page.call("Emulation.setEmulatedMedia", media="print")
    page.call("Emulation.setDeviceMetricsOverride", width=wide, height=1000, deviceScaleFactor=1, mobile=False)
    page.open(url)
    over = page.run("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    looks.check(over <= 0, f"{name}, in print: {over} px too wide: {page.run(WIDER.replace('.wide, ', ''))}")
    drawn = page.run("(() => { const s = document.querySelector('figure svg'); return [s.getBoundingClientRect().width, s.width.baseVal.value]; })()")
    looks.check(abs(drawn[0] - drawn[1]) < 0.5, f"{name}: the section is not drawn at its scale: {drawn}")
    page.call("Emulation.setEmulatedMedia", media="")


def reading(page, looks, name):
    """Roles, names, contrast."""
    tree = page.call("Accessibility.getFullAXTree")["nodes"]

    def of(role):
        seen = [n for n in tree if not n.get("ignored") and n.get("role", {}).get("value") == role]
        return [n.get("name", {}).get("value", "") for n in seen]

    looks.check(len(of("main")) == 1, f"{name}: no main part")
    for role in ("image", "slider", "region"):
        names = of(role)
        looks.check(names and all(names), f"{name}: {role}s without a name among {len(names)}")
    looks.check(len(of("table")) > 5 and len(of("columnheader")) > 20, f"{name}: tables are not told as tables")
    levels = page.run("[...document.querySelectorAll('h1,h2,h3,h4')].map((h) => Number(h.tagName[1]))")
    looks.check(levels.count(1) == 1 and levels[0] == 1, f"{name}: not one first heading")
    looks.check(page.run("document.documentElement.lang") == "en", f"{name}: no language")
    faint = page.run(CONTRAST)
    looks.check(not faint, f"{name}: too little contrast: {faint[:5]}")
    doubled = page.run("[...document.querySelectorAll('[id]')].map((e) => e.id).filter((id, i, all) => all.indexOf(id) !== i)")
    looks.check(not doubled, f"{name}: the same id twice: {doubled}")
    dead = page.run("[...document.querySelectorAll('nav a')].filter((a) => !document.querySelector(a.hash)).length")
    looks.check(dead == 0, f"{name}: {dead} links of the contents lead nowhere")


def turning(page, looks, name, wheel=""):
    """The wheel is turned by keyboard and by hand, the stress read under the pointer. Two wheels have names in front."""
    said = f"document.getElementById('{wheel}field-value').textContent"
    page.run(f"document.getElementById('{wheel}theta').focus()")
    before = page.run(said)
    for kind in ("keyDown", "keyUp"):
        page.call("Input.dispatchKeyEvent", type=kind, key="ArrowRight", code="ArrowRight", windowsVirtualKeyCode=39)
    after = page.run(said)
    looks.check(before != after and "θ = " in after, f"{name}: a key does not turn the wheel: {before!r}")
    page.run(f"document.getElementById('{wheel}field').scrollIntoView({{block: 'center'}})")
    box = page.run(f"(() => {{ const b = document.getElementById('{wheel}field').getBoundingClientRect(); return [b.left, b.top, b.width, b.height]; }})()")
    read = ""
    for share in [0.02 * i for i in range(1, 50)]:
        at = {"x": box[0] + 0.5 * box[2], "y": box[1] + share * box[3]}
        page.call("Input.dispatchMouseEvent", type="mouseMoved", **at)
        read = page.run(said)
        if "compression" in read or "tension." in read:
            break
    looks.check(re.search(r"Here \(r .*\): -?[\d.e+]+ (psi|MPa), (tension|compression)", read), f"{name}: no stress under the pointer: {read!r}")


def two_wheels(page, looks, name):
    """Each wheel is turned alone, and each has a part of its own."""
    said = [f"document.getElementById('{wheel}field-value').textContent" for wheel in ("drive-", "secondary-")]
    before = [page.run(text) for text in said]
    looks.check(before[0] != before[1], f"{name}: both wheels say the same: {before[0]!r}")
    page.run("(() => { const s = document.getElementById('secondary-theta'); s.value = -30; s.dispatchEvent(new Event('input')); })()")
    after = [page.run(text) for text in said]
    looks.check(after[0] == before[0] and after[1] != before[1], f"{name}: one slider turns the other wheel: {after}")
    parts = page.run("[...document.querySelectorAll('h2')].map((h) => h.innerText)")
    for part in ("1 The double wrap", "2 Drive sheave", "3 Secondary sheave"):
        looks.check(sum(text.startswith(part) for text in parts) == 1, f"{name}: not one part '{part}' in {parts}")
    order = page.run("[...document.querySelectorAll('h1,h2,h3,h4,h5')].map((h) => Number(h.tagName[1]))")
    skips = [pair for pair in zip(order, order[1:]) if pair[1] > pair[0] + 1]
    looks.check(not skips, f"{name}: levels of headings are left out: {skips}")


def without_script(page, url, looks, name):
    page.call("Emulation.setScriptExecutionDisabled", value=True)
    page.open(url)
    page.call("Emulation.setScriptExecutionDisabled", value=False)
    text = page.run("document.body.innerText")
    for part in ("Why:", "Every check", "By hand", "Inputs", "Cautions", "Verified beforehand"):
        looks.check(part in text, f"{name}: without script there is no '{part}'")
    shown = page.run("[...document.querySelectorAll('.screen')].some((e) => e.getClientRects().length)")
    looks.check(not shown, f"{name}: without script the slider is shown all the same")
    looks.check(page.run("document.querySelectorAll('svg').length") >= 5, f"{name}: pictures are missing")


def text_of(pdf):
    """Every page's text."""
    done = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True)
    return done.stdout.split("\f")[:-1]


def paper(pdf, looks, name, size):
    """The first page says all that it must, and pages are numbered to the last."""
    pages = text_of(pdf)
    first = re.sub(r"\s+", " ", pages[0])
    # With two sheaves it says of each by whom it was measured.
    measured = ("Drive sheave: measured by", "Secondary sheave: measured by") if name.startswith("lantern") else ("Measured by",)
    for part in ("Why:", "highest tension", "Responsible engineer", "certifies nothing", *measured):
        looks.check(part in first, f"{name}: the first page lacks '{part}'")
    looks.check("Appendix" not in first and "Appendix" in pages[1], f"{name}: the appendix does not begin page 2")
    for number, text in enumerate(pages, 1):
        looks.check(f"{number} of {len(pages)}" in text, f"{name}: page {number} is not numbered of {len(pages)}")
        looks.check(len(text.split()) > 25, f"{name}: page {number} is nearly empty")
    info = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    looks.check(size in info, f"{name}: not on {size}")
    return len(pages)


def tree_of(pdf):
    """The tag tree as poppler reads it: (depth, role or None, text) for every node and every piece of text."""
    done = subprocess.run(["pdfinfo", "-struct-text", pdf], capture_output=True, text=True, errors="replace", check=True)
    nodes = []
    for line in done.stdout.splitlines():
        bare = line.strip()
        depth = (len(line) - len(line.lstrip())) // 2
        if bare.startswith('"'):
            nodes.append((depth, None, bare.strip('"')))
        elif bare and not bare.startswith("/"):
            nodes.append((depth, bare.split()[0].rstrip(":"), ""))
    return nodes


def below(nodes, at):
    """What stands below the node at this place."""
    depth = nodes[at][0]
    end = next((i for i in range(at + 1, len(nodes)) if nodes[i][0] <= depth), len(nodes))
    return nodes[at + 1 : end]


def read_out(pdf, looks, name, lists=True):
    """To a reader without sight: headings without gaps, tables with heads, pictures, and every word but the foot."""
    info = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    looks.check(re.search(r"Tagged: +yes", info), f"{name}: not tagged")
    looks.check(re.search(r"Title: +\S", info), f"{name}: no title")
    nodes = tree_of(pdf)
    roles = [role for _, role, _ in nodes if role]
    levels = [int(role[1]) for role in roles if re.fullmatch(r"H[1-6]", role)]
    looks.check(levels[:1] == [1] and levels.count(1) == 1, f"{name}: headings begin {levels[:3]}, {levels.count(1)} of level 1")
    gaps = [(a, b) for a, b in zip(levels, levels[1:]) if b > a + 1]
    looks.check(not gaps, f"{name}: levels of headings are left out: {gaps}")
    tables = [at for at, (_, role, _) in enumerate(nodes) if role == "Table"]
    looks.check(len(tables) > 2, f"{name}: {len(tables)} tables are told")
    for at in tables:
        inside = below(nodes, at)
        rows = [[role for _, role, _ in below(inside, i) if role] for i, (_, role, _) in enumerate(inside) if role == "TR"]
        looks.check(rows and set(rows[0]) == {"TH"}, f"{name}: a table without heads: {inside[:3]}")
        looks.check(all(len(row) == len(rows[0]) for row in rows), f"{name}: rows of unequal length")
        looks.check(all(row[0] == "TH" and set(row[1:]) <= {"TD"} for row in rows[1:]), f"{name}: rows without a head")
    looks.check("Figure" in roles, f"{name}: no picture is told")
    looks.check({"L", "LI", "LBody"} <= set(roles) or not lists, f"{name}: no list is told")
    # Word by word the same text as on the pages, but for what stands at every foot.
    seen = re.sub(r"\W", "", "".join(text for text in text_of(pdf)))
    said = re.sub(r"\W", "", "".join(text for _, role, text in nodes if role is None))
    pages = len(text_of(pdf))
    looks.check(len(said) > 0.9 * len(seen) - 150 * pages, f"{name}: {len(said)} of {len(seen)} letters are told")
    looks.check(not any(re.fullmatch(rf"\d+ of {pages}", text) for _, _, text in nodes), f"{name}: page numbers are read out")


def names(page, pdf, looks):
    """What was written to break out stands on the page as text."""
    text = page.run("document.body.innerText")
    looks.check("<script>alert(1)</script> & \"Tower\"" in text, "hostile: the name is not shown as written")
    looks.check(page.run("document.querySelectorAll('img, b').length") == 0, "hostile: an element came out of a name")
    looks.check(page.run("document.scripts.length") == 2, "hostile: a script came out of a name")
    looks.check("\u202e" not in text and "\x07" not in text, "hostile: a mark of direction or a bell got through")
    printed = "".join(text_of(pdf))
    looks.check("<script>alert(1)</script>" in printed, "hostile: the PDF does not show the name")
    # What the typeface lacks is owned up to, and whole when it is copied out.
    looks.check("U+68AF, U+7535" in re.sub(r"\s+", " ", printed), "hostile: the PDF does not say what its typeface lacks")
    looks.check("电梯" in printed, "hostile: letters that the typeface lacks are lost")
    looks.check("电梯" in text, "hostile: the page does not hold the surveyor's letters")


def main():
    program = Path(sys.argv[1]).resolve()
    folder = Path(sys.argv[2] if len(sys.argv) > 2 else "target/report")
    folder.mkdir(parents=True, exist_ok=True)
    chromium = browser.find()
    if not chromium:
        print("there is no Chromium on this machine: the reports were not looked at")
        return 77
    looks = Looks()
    surveys = [
        ("harbour", Path("meshes/harbour.toml"), "letter", "612 x 792"),
        ("granary", Path("meshes/granary.toml"), "a4", "A4"),
        ("hostile", hostile_survey(folder), "a4", "A4"),
        ("lantern", Path("meshes/lantern.toml"), "a4", "A4"),
    ]
    page = browser.Browser(chromium)
    try:
        for name, survey, size, told in surveys:
            files = make(program, survey, folder, name, size)
            url = files["html"].resolve().as_uri()
            # The papers' widths less the margins that the page asks for, in px of 96 to the inch.
            on_paper(page, url, looks, name, 672 if size == "a4" else 694)
            widths(page, url, looks, name, folder)
            reading(page, looks, name)
            if name == "lantern":
                two_wheels(page, looks, name)
                for wheel in ("drive-", "secondary-"):
                    turning(page, looks, name, wheel)
            else:
                turning(page, looks, name)
            if name == "hostile":
                names(page, files["pdf"], looks)
            without_script(page, url, looks, name)
            printed = folder / f"{name}_printed.pdf"
            printed.write_bytes(page.printed())
            read_out(files["pdf"], looks, files["pdf"].name)
            counts = [paper(file, looks, file.name, told) for file in (files["pdf"], printed)]
            print(f"{name}: {counts[0]} pages as PDF, {counts[1]} as the browser prints them")
        for name in ("harbour_thin", "harbour_corner", "deflector", "mill", "lantern_two", "lantern_near"):
            files = make(program, Path(f"meshes/{name}.toml"), folder, name, "letter")
            paper(files["pdf"], looks, f"{name}.pdf", "612 x 792")
            read_out(files["pdf"], looks, f"{name}.pdf")
        for name, survey, size in (("cut_inch", "harbour", "letter"), ("cut_metric", "mill", "a4")):
            sheet = folder / f"{name}.pdf"
            asked = [program, "check", f"meshes/{survey}.toml", "--brief", "--paper", size, "--machining", sheet]
            subprocess.run(asked, capture_output=True, check=True)
            read_out(sheet, looks, sheet.name)
        for units in ("inch", "metric"):
            sheet = folder / f"sheet_{units}.pdf"
            subprocess.run([program, "survey", "--sheet", sheet, "--units", units], capture_output=True, check=True)
            read_out(sheet, looks, sheet.name, lists=False)
    finally:
        page.close()
    for wrong in looks.wrong:
        print(f"wrong: {wrong}")
    print(f"{looks.looked - len(looks.wrong)} passed, {len(looks.wrong)} failed")
    return 1 if looks.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
