"""What stands between the pages and whoever asks: names, origins, tokens, headers, shape and size of what is sent."""
