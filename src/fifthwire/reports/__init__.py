"""The report in print: a tagged PDF, laid out by typst from the same content as the page."""

from fifthwire.reports.pdf import pdf_report

__all__ = ["pdf_report"]
