"""The science and the decisions, pure: values in, values out. No web, clock, disk or chance."""
