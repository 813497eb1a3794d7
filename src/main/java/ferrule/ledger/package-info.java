/**
 * The log of everything that is said for good: sign-offs, rulings, changes of the programme.
 *
 * <p>It is only ever added to. A feature says a {@link ferrule.ledger.Statement}, and {@link ferrule.ledger.LedgerStore}
 * appends it in the feature's own transaction; its hash becomes a leaf of a Merkle tree ({@link
 * ferrule.ledger.MerkleTree}), and {@link ferrule.ledger.LogCheck} finds the first entry that was touched since. The
 * package knows what every statement has in common and nothing of what a feature says in it. It knows {@code people} and
 * {@code store} at most. Start at {@link ferrule.ledger.Statement}, then {@link ferrule.ledger.LedgerStore}.
 */
package ferrule.ledger;
