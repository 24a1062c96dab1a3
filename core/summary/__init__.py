"""The summary of a design: one description of it, written as PDF, HTML, SVG and CSV."""
