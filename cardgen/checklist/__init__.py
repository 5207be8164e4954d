"""The personalised checklist: items as data, chosen by features, filled with values."""
