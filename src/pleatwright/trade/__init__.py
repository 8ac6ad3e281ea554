"""The trade's defaults, each with its provenance, and the settings a shop makes of them."""

from pleatwright.trade.defaults import (
    SHARE_ABOVE,
    SHARE_BELOW,
    Default,
    Kind,
    default_settings,
    provenance,
    with_overrides,
)
from pleatwright.trade.settings import (
    BenchSettings,
    ClothSettings,
    PleatsSettings,
    SearchSettings,
    Settings,
    SewingSettings,
    WearerSettings,
    WeightsSettings,
)

__all__ = [
    "SHARE_ABOVE",
    "SHARE_BELOW",
    "BenchSettings",
    "ClothSettings",
    "Default",
    "Kind",
    "PleatsSettings",
    "SearchSettings",
    "Settings",
    "SewingSettings",
    "WearerSettings",
    "WeightsSettings",
    "default_settings",
    "provenance",
    "with_overrides",
]
