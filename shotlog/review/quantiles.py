"""Quantiles of Student's t and of chi-square: those of `scipy.stats`, whose loading takes 50 MB, from what it asks."""

__all__ = ["chi_square", "student"]


def student(share: float, freedom: float) -> float:
    """Return the value that a share of Student's t with so many degrees of freedom lies below."""
    from scipy.special import stdtrit

    return float(stdtrit(freedom, share))


def chi_square(share: float, freedom: float) -> float:
    """Return the value that a share of chi-square with so many degrees of freedom lies below."""
    from scipy.special import gammaincinv

    return float(2.0 * gammaincinv(freedom / 2.0, share))
