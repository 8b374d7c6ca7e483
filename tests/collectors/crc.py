"""The check of a Modbus frame on a serial line, worked out here once more so that tests lean on no library."""

__all__ = ["crc"]


def crc(data: bytes) -> bytes:
    """CRC-16 bit by bit, low byte first (Modbus over serial line guide v1.02, clause 6.2.2)."""
    register = 0xFFFF
    for byte in data:
        register ^= byte
        for _ in range(8):
            register = (register >> 1) ^ (0xA001 if register & 1 else 0)
    return register.to_bytes(2, "little")
