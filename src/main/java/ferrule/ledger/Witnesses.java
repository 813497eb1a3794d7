package ferrule.ledger;

import java.util.List;
import java.util.Optional;

/**
 * What speaks for an earlier state of the log beside the log itself.
 *
 * @param noted a head that somebody noted and kept elsewhere, if there is one
 * @param signed heads that were signed
 * @param keys that signed them
 */
public record Witnesses(Optional<TreeHead> noted, List<SignedHead> signed, List<HeadKey> keys) {

  /** No witness. */
  public static final Witnesses NONE = new Witnesses(Optional.empty(), List.of(), List.of());

  /** Copies the lists. */
  public Witnesses {
    signed = List.copyOf(signed);
    keys = List.copyOf(keys);
  }

  /** Only what somebody noted. */
  public static Witnesses noted(Optional<TreeHead> head) {
    return new Witnesses(head, List.of(), List.of());
  }

  /** These and what somebody noted. */
  public Witnesses with(Optional<TreeHead> head) {
    return new Witnesses(head, signed, keys);
  }

  /** Of the signed heads those that this key signed: for whoever trusts that key alone. */
  public Witnesses signedWith(HeadKey key) {
    return new Witnesses(
        noted, signed.stream().filter(head -> head.keyId().equals(key.id())).toList(), List.of(key));
  }

  /** The first signed head whose signature does not fit, if there is one. */
  Optional<SignedHead> forged() {
    return signed.stream().filter(head -> keys.stream().noneMatch(head::isSignedWith)).findFirst();
  }
}
