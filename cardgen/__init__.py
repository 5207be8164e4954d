"""Cards and reports for towing rigs, made from one YAML description per rig."""

__version__ = "0.1.0"
