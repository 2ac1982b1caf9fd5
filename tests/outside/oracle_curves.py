"""Operating times by two independent programs, printed as JSON.

Run with the Python of `.venv-oracles`, on nothing of ours:
IEEE curves from the tables inside dss-python (times at dial 1, four decimals),
IEC curves from pandapower's overcurrent relay.
"""

import json
import logging
import sys
from typing import Any

MULTIPLES = (1.1, 1.3, 1.5, 2.0, 3.0, 5.0, 7.0, 10.0, 20.0, 30.0)
DIALS = (0.05, 0.5, 1.0)
IEC = {
    "iec_standard_inverse": "standard_inverse",
    "iec_very_inverse": "very_inverse",
    "iec_extremely_inverse": "extremely_inverse",
    "iec_long_time_inverse": "long_inverse",
}
IEEE = {
    "ieee_moderately_inverse": "mod_inv",
    "ieee_very_inverse": "very_inv",
    "ieee_extremely_inverse": "ext_inv",
}
PICKUP_KA = 0.1


def ieee() -> list[list[Any]]:
    """Return [curve, dial, multiple, seconds] of dss-python's own curves."""
    import dss

    text = dss.DSS.Text

    def numbers(name: str, array: str) -> list[float]:
        text.Command = f"? tcc_curve.{name}.{array}"
        return [float(word) for word in text.Result.strip("[] ").split()]

    text.Command = "clear"
    text.Command = "new circuit.one"
    return [
        [curve, 1.0, multiple, seconds]
        for curve, name in IEEE.items()
        for multiple, seconds in zip(
            numbers(name, "c_array"), numbers(name, "t_array"), strict=True
        )
    ]


def iec() -> list[list[Any]]:
    """Return [curve, multiplier, multiple, seconds] of pandapower's relay."""
    import pandapower as pp
    from pandas import DataFrame

    logging.disable(logging.WARNING)
    from pandapower.protection.protection_devices.ocrelay import OCRelay

    net = pp.create_empty_network()
    buses = [pp.create_bus(net, vn_kv=20, geodata=(x, 0)) for x in (0, 1)]
    pp.create_ext_grid(net, buses[0], s_sc_max_mva=100, rx_max=0.1)
    line = pp.create_line(net, *buses, length_km=1, std_type="NAYY 4x50 SE")
    net.line["endtemp_degree"] = 80
    pp.create_switch(net, buses[0], line, et="l", type="CB")
    found: list[list[Any]] = []
    for curve, name in IEC.items():
        for dial in DIALS:
            relay = OCRelay(
                net,
                switch_index=0,
                oc_relay_type="IDMT",
                time_settings=[dial, 0.0],
                curve_type=name,
                pickup_current_manual=DataFrame({"switch_id": [0], "I_s": [PICKUP_KA]}),
            )
            for multiple in MULTIPLES:
                net.res_switch_sc = DataFrame({"ikss_ka": [PICKUP_KA * multiple]})
                answer = relay.protection_function(net, "sc")
                found.append([curve, dial, multiple, float(answer["trip_melt_time_s"])])
    return found


if __name__ == "__main__":
    json.dump({"ieee": ieee(), "iec": iec()}, sys.stdout)
