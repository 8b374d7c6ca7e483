"""The examiner: presses that are no mirror of the call, and cases that the call is examined on.

Written from notes of the trade alone, without a look at how the call works: it is fed shot by shot through
`shotlog.evaluator.Evaluator`, and read by its verdicts. What is drawn comes from families wider than any table of
the project. "Trade notes" below are the project's own notes on moulding; what is taken from them is said in full.
"""
