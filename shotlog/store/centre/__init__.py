"""The centre: a PostgreSQL database that holds the logs of many edges, each whole and unchanged under its name."""
