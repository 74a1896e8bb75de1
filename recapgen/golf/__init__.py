"""Quantities of the trade and the physics behind them."""
