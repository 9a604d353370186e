"""A drawing as a file of its own: it carries its rules of ink, and its answer allows these and no others."""

import re
from base64 import b64encode
from hashlib import sha256

from fastapi.responses import Response


def svg_file(document: str) -> Response:
    """The answer that holds a drawing.

    Parameters
    ----------
    document : str
        SVG, of ours.
    """
    styles = re.findall(r"<style>(.*?)</style>", document, re.DOTALL)
    known = [b64encode(sha256(style.encode("utf-8")).digest()).decode("ascii") for style in styles]
    allowed = " ".join(f"'sha256-{one}'" for one in known) or "'none'"
    headers = {"Content-Security-Policy": f"default-src 'none'; style-src {allowed}"}
    return Response(document, media_type="image/svg+xml", headers=headers)
