"""The version of the model."""

MODEL_VERSION = "0.3.0"
"""Changes when a shown number changes; README lists what changed and why."""
