"""The pages at a centre, by one server: those of each edge under ``/at/EDGE``, and the plant of all of them."""
