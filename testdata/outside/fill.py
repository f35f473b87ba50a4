"""Open a workbook in LibreOffice, type into it as a person would, and save it.

    fill.py PLAN.json

The plan has: "in" and "out", paths of workbooks; "profile", an empty folder;
"cells", a list of [sheet, cell, what is typed]; "lists", a list of [sheet, cell]
whose drop-downs are asked for after the typing. Printed, as JSON: "shown", what each
typed cell then shows; "lists", the words that each drop-down offers, "" apart.

Typing goes by FormulaLocal: what is written is taken as by the keyboard in the
language of the program, here English of Great Britain, where 31/03/2026 is a date.
"""
import json
import os
import subprocess
import sys
import time

import uno
from com.sun.star.beans import PropertyValue

LANGUAGE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>en-GB</value></prop></item>
</oor:items>
"""


def start(profile):
    os.makedirs(os.path.join(profile, "user"))
    with open(os.path.join(profile, "user", "registrymodifications.xcu"), "w") as f:
        f.write(LANGUAGE)
    pipe = "footing%d" % os.getpid()
    office = subprocess.Popen(
        ["soffice", "--headless", "--norestore", "--accept=pipe,name=%s;urp" % pipe,
         "-env:UserInstallation=" + uno.systemPathToFileUrl(profile)],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(240):
        try:
            return office, resolver.resolve("uno:pipe,name=%s;urp;StarOffice.ComponentContext" % pipe)
        except Exception:  # not there yet
            if office.poll() is not None:
                raise SystemExit("soffice ended at once")
            time.sleep(0.25)
    raise SystemExit("soffice does not answer")


def named(name, value):
    p = PropertyValue()
    p.Name, p.Value = name, value
    return p


def offered(sheets, sheet, cell):
    """The words of a drop-down: its formula is reckoned in cells far to the right."""
    page = sheets.getByName(sheet)
    rule = page.getCellRangeByName(cell).Validation
    if rule.Type.value != "LIST":
        return [rule.Type.value]
    words = []
    scratch = page.getCellByPosition(700, 700)
    for n in range(1, 60):
        scratch.setFormula("=IFERROR(INDEX(%s;%d;1)&\"\";\"#end\")" % (rule.getFormula1().lstrip("="), n))
        if scratch.getString() == "#end":
            break
        words.append(scratch.getString())
    scratch.setFormula("")
    return words


def main():
    with open(sys.argv[1]) as f:
        plan = json.load(f)
    office, context = start(plan["profile"])
    try:
        desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        book = desktop.loadComponentFromURL(uno.systemPathToFileUrl(plan["in"]), "_blank", 0, (named("Hidden", True),))
        sheets = book.Sheets
        for sheet, cell, typed in plan["cells"]:
            sheets.getByName(sheet).getCellRangeByName(cell).FormulaLocal = typed
        shown = [sheets.getByName(s).getCellRangeByName(c).String for s, c, _ in plan["cells"]]
        lists = [offered(sheets, s, c) for s, c in plan["lists"]]
        book.storeToURL(uno.systemPathToFileUrl(plan["out"]), (named("FilterName", "Calc MS Excel 2007 XML"),))
        book.close(True)
        print(json.dumps({"shown": shown, "lists": lists}))
    finally:
        try:
            desktop.terminate()
        except Exception:  # it may be gone by itself
            office.terminate()
        office.wait(30)


main()
