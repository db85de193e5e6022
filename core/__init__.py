"""The domain: promises, asks, forecasts, sessions. Knows nobody; reads no clock; opens no socket."""
