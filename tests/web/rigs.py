"""Rigs as they are typed into the controls of the form."""

SINGLE_LINE = {
    "method": "winch",
    "pull-start": "recovery_vehicle.winch",
    "pull-made_of-0": "winch-line",
    "pull-to": "stuck_vehicle.rear",
    "pull-to_pieces-0-item": "bow-1",
    "pull-dampers": "damper-1",
}
TURNED = SINGLE_LINE | {
    "pull-made_of-1": "soft-1",
    "pull-made_of-2": "line-2",
    "pull-pulleys-0-at": "oak",
    "pull-pulleys-0-by": "ring-1",
    "pull-pulleys-0-pieces-0-item": "sling-1",
    "pull-pulleys-0-pieces-0-hitch": "basket",
    "pull-pulleys-0-pieces-0-angle": "40",
    "pull-pulleys-0-pieces-0-angle-unit": "°",
}
