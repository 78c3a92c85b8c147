"""The contrast of two colours, as the Web Content Accessibility Guidelines 2.2 define it."""


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two ``#rrggbb``: 1 for equal ones, 21 for black and white.

    W3C Recommendation "WCAG 2.2", definition of *contrast ratio*: (L1 + 0.05) / (L2 + 0.05).
    """
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    """Return the relative luminance of an sRGB colour.

    W3C Recommendation "WCAG 2.2", definition of *relative luminance*; its threshold is 0.04045
    as in IEC 61966-2-1 (earlier editions had 0.03928; no 8-bit value lies between).
    """
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
