"""OPC UA: each tag has its variables, renewed with every value of the instrument, which can only be read.

Current and level carry a status: Good, Uncertain where the current tells neither or stands at its end, Bad in failure.
The source time is that of the machine when the value was taken; of a frozen value it stays.

Source: OPC UA part 4, status codes, and part 8, those of data access (from memory).
"""

from __future__ import annotations

import logging
from datetime import UTC, datetime
from importlib import import_module
from typing import Any

from onedatum.foundation.units import in_unit
from onedatum.jobs.standin import LOOPBACK, OPC_UA
from onedatum.jobs.standin.links import Plant, Seen

NAMESPACE = "urn:onedatum:stand-in"
NAMESPACE_INDEX = 2
VARIABLES = {
    "current": "loop current, mA",
    "level": "level by the current, m",
    "temperature": "temperature of the liquid, degC",
    "time": "time of the tank since the start, s",
    "true_level": "true level, m, which no plant tells",
}
GOOD, UNCERTAIN, BAD = "Good", "UncertainEngineeringUnitsExceeded", "BadSensorFailure"
MOST_GARBAGE = 1e6


def node_of(tag: str, variable: str) -> str:
    """The node of a variable as clients name it."""
    return f"ns={NAMESPACE_INDEX};s={tag}.{variable}"


def values_of(seen: Seen, plant: Plant) -> dict[str, tuple[float, str]]:
    """Value and name of the status of every variable."""
    moment = seen.moment
    of_current = GOOD if moment.is_measuring else BAD if moment.state.startswith("failure") else UNCERTAIN
    of_level = UNCERTAIN if moment.is_bound else of_current
    values = {
        "current": (in_unit(moment.current_A, "mA"), of_current),
        "level": (float("nan") if moment.shown_m is None else moment.shown_m, of_level),
        "temperature": (in_unit(moment.temperature_K, "degC"), GOOD),
        "time": (moment.time_s, GOOD),
        "true_level": (moment.level_m, GOOD),
    }
    if not seen.is_garbage:
        return values
    return {name: (plant.random.uniform(-MOST_GARBAGE, MOST_GARBAGE), GOOD) for name in values}


class OpcUaServer:
    """The server behind a gate; its name outside is that of the gate."""

    def __init__(self, plant: Plant, port: int = 0) -> None:
        self.plant, self.port = plant, port
        self._server: Any = None
        self._nodes: dict[tuple[str, str], Any] = {}
        self._told: dict[str, Seen] = {}
        self._is_on = False

    @property
    def url(self) -> str:
        """What clients connect to."""
        return f"opc.tcp://{LOOPBACK}:{self.port}/"

    async def start(self) -> int:
        """Begin to listen; gives the port. The nodes are made once: that takes seconds."""
        logging.getLogger("asyncua").setLevel(logging.CRITICAL + 1)  # what clients do wrong is their matter
        if self._server is None:
            self._server = await self._made()
        await self.publish()
        await self._server.start()
        self._is_on = True
        return int(self._server.bserver.port)

    async def stop(self) -> None:
        """Listen no more."""
        if self._is_on:
            self._is_on = False
            await self._server.stop()

    async def _made(self) -> Any:
        library = _library()
        ua = library.ua
        server = library.Server()
        await server.init()
        server.allow_remote_admin(False)
        server.set_endpoint(self.url)
        server.set_server_name("onedatum stand-in: a simulation")
        server.set_security_policy([ua.SecurityPolicyType.NoSecurity], permission_ruleset=_Readers())
        server.socket_address = (LOOPBACK, 0)
        await server.register_namespace(NAMESPACE)
        for tank in self.plant.tanks:
            folder = await server.nodes.objects.add_folder(NAMESPACE_INDEX, tank.tag)
            for name in VARIABLES:
                node_id = ua.NodeId.from_string(node_of(tank.tag, name))
                node = await folder.add_variable(node_id, ua.QualifiedName(name, NAMESPACE_INDEX), 0.0)
                self._nodes[tank.tag, name] = node
        return server

    async def publish(self) -> None:
        """Write what the instruments have told since."""
        ua = _library().ua
        for tank in self.plant.tanks if self._server is not None else ():
            seen = self.plant.seen(OPC_UA, tank.tag)
            if self._told.get(tank.tag) == seen and not seen.is_garbage:
                continue
            self._told[tank.tag] = seen
            now = datetime.now(UTC)
            for name, (value, status) in values_of(seen, self.plant).items():
                code = ua.StatusCode(getattr(ua.StatusCodes, status))
                variant = ua.Variant(value, ua.VariantType.Double)
                told = ua.DataValue(variant, code, SourceTimestamp=now, ServerTimestamp=now)
                await self._server.write_attribute_value(self._nodes[tank.tag, name].nodeid, told)


def _library() -> Any:
    """What serves; its types differ from one version to the next."""
    return import_module("asyncua")


class _Readers:
    """Who may do what: all may read and subscribe, nobody may write or call, whoever it is."""

    def __init__(self) -> None:
        ua, rules = _library().ua, import_module("asyncua.crypto.permission_rules")
        refused = (
            ua.ObjectIds.WriteRequest_Encoding_DefaultBinary,
            ua.ObjectIds.CallRequest_Encoding_DefaultBinary,
        )
        self._allowed = {ua.NodeId(each) for each in rules.USER_TYPES if each not in refused}

    def check_validity(self, user: Any, action_type_id: Any, body: Any) -> bool:
        """Whether a request is let through."""
        return action_type_id in self._allowed
