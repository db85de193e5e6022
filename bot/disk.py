"""What must survive a power cut."""

import os
from pathlib import Path


def to_disk(place: Path) -> None:
    """See what is in a file, or the names in a folder, to the disk."""
    descriptor = os.open(place, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
