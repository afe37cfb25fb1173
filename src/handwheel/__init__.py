"""handwheel: from a published drawing to sheets for a manual lathe."""

__version__ = "0.1.0"
