"""Run `examine` as the package; spawned processes do not find what is defined here."""

from tests.benchmark.examiner.trials.examine import main

if __name__ == "__main__":
    main()
