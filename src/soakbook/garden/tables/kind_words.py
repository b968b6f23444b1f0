"""The words gardeners call plants by, common and Latin, each under the class it drinks like.

Data only, from memory; a garden's own word for a plant belongs in the row it drinks like. How a
row and the plant's origin make a class is in `kinds`.
"""


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_ROWS: dict[str, str] = {
    "shrub": """shrub dug_shrub bare_shrub
        bush rose rosa hazel viburnum philadelphus lilac syringa buddleja buddleia
        cornus dogwood spiraea weigela forsythia fuchsia camellia rhododendron azalea holly ilex
        laurel bay photinia pittosporum euonymus elaeagnus escallonia choisya hebe mahonia skimmia
        berberis pyracantha cotoneaster osmanthus sarcococca daphne potentilla ceanothus deutzia
        abelia currant gooseberry raspberry blackberry blueberry privet ligustrum blackthorn""",
    "climber": """climber climbing rambler rambling clematis wisteria honeysuckle lonicera jasmine
        ivy creeper vine passionflower""",
    "perennial": """perennial grass sedge bulb herb geranium cranesbill salvia aster delphinium
        lupin phlox iris daylily hemerocallis nepeta catmint alchemilla echinacea rudbeckia sedum
        penstemon achillea verbena peony anemone hellebore foxglove campanula crocosmia kniphofia
        dahlia primrose miscanthus stipa carex molinia deschampsia pennisetum""",
    "soft": """hydrangea fern astilbe ligularia rodgersia hosta gunnera rheum filipendula soft""",
    "conifer": """conifer potted_conifer
        yew taxus box buxus juniper juniperus pine pinus spruce fir cypress
        leylandii thuja cedar podocarpus""",
    "whip": """whip hedge hedging quickthorn""",
    "tree": """tree oak birch maple acer apple pear plum cherry rowan sorbus lime ash beech
        hornbeam magnolia hawthorn willow alder medlar quince fig olive mulberry walnut
        amelanchier liquidambar robinia elm poplar""",
    "dry_shrub": """dry_shrub
        lavender lavandula rosemary cistus sage santolina thyme phlomis gorse broom
        teucrium helianthemum artemisia myrtle""",
}
KIND_WORDS: dict[str, str] = {word: row for row, words in _ROWS.items() for word in _words(words)}

HEDGING_WORDS = _words("whip hedge hedging quickthorn hornbeam beech hawthorn blackthorn privet")
"""Bare-rooted, these are a hedge."""

EVERGREEN_WORDS = _words(
    """evergreen holly ilex laurel bay camellia rhododendron photinia pittosporum elaeagnus
    escallonia choisya hebe mahonia skimmia pyracantha osmanthus sarcococca euonymus ceanothus ivy
    olive hellebore"""
)
DIES_DOWN_WORDS = _words("fern astilbe ligularia rodgersia hosta gunnera rheum filipendula")
