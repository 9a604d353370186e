"""A register with one invented site, its system, valves and an assessed visit, for the tests of pages."""

import re
from dataclasses import dataclass
from html import unescape

from tests.web_client import Client

from fifthwire.demo.site import VISIT_NAME, demo_text
from fifthwire.model.kept.people import Person, alone
from fifthwire.register.store import Register
from fifthwire.web.app import create_app
from fifthwire.workflow import manuals, meters, places, visits_kept

WHO = alone("rt")


@dataclass(frozen=True)
class Filled:
    """A filled register and a browser in front of it."""

    register: Register
    client: Client
    visit_id: str
    system_id: str
    site_id: str
    who: Person = WHO

    def valve_id(self, label: str) -> str:
        """Of the valve of that label."""
        valves = places.system_whole(self.register, self.who, self.system_id).valves
        return next(row.valve.id for row in valves if row.valve.label == label)

    def text(self, path: str) -> str:
        """What a page says, without its tags."""
        answer = self.client.get(path)
        assert answer.status_code == 200, (path, answer.status_code)
        return text_of(answer.text)


def text_of(html: str) -> str:
    """What a page says, without its tags, spaces as one."""
    bare = re.sub(r"<(script|style|svg)\b.*?</\1>", "", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", bare)).split())


def a_filled_register(register: Register) -> Filled:
    """The invented site's visit imported and assessed, a spec and a meter entered."""
    manuals.add_spec(
        register,
        WHO,
        name="outdoor-clip",
        spec={"winding": "unipolar-5", "resistance": "62 ohm", "tolerance": "10 %"},
        title="Manual of the outdoor unit (invented)",
        page="212",
    )
    meters.add_meter(register, WHO, serial="A1234", meter={"accuracy": "0.9 % + 2 digits", "resolution": "0.1 ohm"})
    done = visits_kept.import_visit_file(register, WHO, demo_text(VISIT_NAME), VISIT_NAME, answers={})
    visits_kept.judge_visit(register, WHO, done.kept.id)
    client = Client(create_app(register, alone=WHO))
    return Filled(register, client, done.kept.id, done.kept.system_id, done.kept.site_id)
