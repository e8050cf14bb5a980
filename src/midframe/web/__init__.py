"""The bench in the browser: pages over the library and the store. The only place that knows HTTP."""
