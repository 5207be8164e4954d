"""YAML text to checked input: positions, shared parts, shapes and faults. Knows no rig."""
