"""The version of the model."""

MODEL_VERSION = "0.2.0"
"""Changes when a shown number changes; README lists what changed and why."""
