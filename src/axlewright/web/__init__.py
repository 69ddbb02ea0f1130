"""The shop's pages: routes only turn a request into one call of `tasks`, and its answer into a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axlewright.on_demand import on_demand

if TYPE_CHECKING:
    from axlewright.web.serve import ShopWide, serve

__all__ = ["ShopWide", "serve"]

__getattr__ = on_demand(__name__, {"axlewright.web.serve": ("ShopWide", "serve")})
