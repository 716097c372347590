"""Print the closing line of a whole test run, added up from the reports of its parts."""

import sys
from xml.etree import ElementTree

total = failed = skipped = 0
for report in sys.argv[1:]:
    for suite in ElementTree.parse(report).iter("testsuite"):
        total += int(suite.get("tests", 0))
        failed += int(suite.get("failures", 0)) + int(suite.get("errors", 0))
        skipped += int(suite.get("skipped", 0))
print(f"{total - failed - skipped} passed, {failed} failed, {skipped} skipped")
sys.exit(1 if failed or total == 0 else 0)
