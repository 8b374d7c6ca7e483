"""The two trials of the trade notes (scenario.md), drawn from their equations and judged live, shot by shot.

`pawl` and `manifold` draw them, `watched` feeds them to the call, `pawl_demands` and `manifold_demands` say what the
notes demand of a monitor, one row each. What the notes leave open stands with each as an assumption.
"""
