"""espeak-ng's letter-to-sound rules, through its shared library (Debian `libespeak-ng1`)."""

import ctypes
import ctypes.util

_lib = None


def phonemes(text, voice):
    """The phoneme string of `text` in `en-us` or `en` (British)."""
    global _lib
    if _lib is None:
        _lib = ctypes.CDLL(ctypes.util.find_library("espeak-ng") or "libespeak-ng.so.1")
        _lib.espeak_Initialize(2, 0, None, 0)
        _lib.espeak_TextToPhonemes.restype = ctypes.c_char_p
        _lib.espeak_TextToPhonemes.argtypes = [ctypes.POINTER(ctypes.c_char_p), ctypes.c_int, ctypes.c_int]
    if phonemes.voice != voice:
        _lib.espeak_SetVoiceByName(voice.encode())
        phonemes.voice = voice
    left, parts = ctypes.c_char_p(text.encode()), []
    while left.value:
        parts.append(_lib.espeak_TextToPhonemes(ctypes.byref(left), 1, 2).decode())
    return " ".join(parts).strip()


phonemes.voice = None
