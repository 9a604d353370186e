"""A visit in, a verdict for every valve out; its JSON, its page and its three plain lines.

What is not asked for is not imported: the page and its drawings load only where a report is made.
"""

from typing import TYPE_CHECKING, Any

from fifthwire.assessment.as_json import assessment_to_json
from fifthwire.assessment.assess import assess

if TYPE_CHECKING:
    from fifthwire.assessment.content import report_content
    from fifthwire.assessment.page import report_page
    from fifthwire.assessment.summary import ThreeLines, three_lines

__all__ = ["ThreeLines", "assess", "assessment_to_json", "report_content", "report_page", "three_lines"]


def __getattr__(name: str) -> Any:
    if name == "report_page":
        from fifthwire.assessment.page import report_page

        return report_page
    if name == "report_content":
        from fifthwire.assessment.content import report_content

        return report_content
    if name in ("three_lines", "ThreeLines"):
        from fifthwire.assessment import summary

        return getattr(summary, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
