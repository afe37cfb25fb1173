"""Sheets: drawings, cards and readings as SVG, HTML and PDF."""
