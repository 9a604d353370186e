"""How a phone comes to trust this register: what to compare, what to install, how to take it away again."""

from fastapi import APIRouter, HTTPException
from fastapi.responses import HTMLResponse, Response

from fifthwire.web.asking import Asked
from fifthwire.workflow.tls import authority_for_a_phone

router = APIRouter(prefix="/trust")


@router.get("")
def trust(asking: Asked) -> HTMLResponse:
    """What the warning of a browser means here, and how to end it for good."""
    return asking.page("guard/trust.html", certificate=asking.settings.certificate)


@router.get("/authority.crt")
def authority(asking: Asked) -> Response:
    """The own authority's certificate, as phones take it."""
    certificate = asking.settings.certificate
    content = None if certificate is None else authority_for_a_phone(certificate)
    if content is None:
        raise HTTPException(status_code=404)
    return Response(
        content,
        media_type="application/x-x509-ca-cert",
        headers={"Content-Disposition": 'attachment; filename="fifthwire-authority.crt"'},
    )
