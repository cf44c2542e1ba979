"""Drawings as lists of plain shapes, in millimetres on the paper; two writers turn them into ink.

Black on white throughout: meaning is carried by shape, hatching and words, never by colour.
"""
