"""The demo school: an invented world to look around in; nobody and nothing in it is real."""

from coursekit.services.demo.school import DEMO_SCHOOL, Demo, load_demo

__all__ = ["DEMO_SCHOOL", "Demo", "load_demo"]
