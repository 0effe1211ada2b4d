"""Long proofs, too slow for every change: ``python3 dev.py soak [names]`` runs them and writes docs/proofs/.

To add one, add a module to ``soak/proofs``; its text says how.
"""
