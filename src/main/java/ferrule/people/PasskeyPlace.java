package ferrule.people;

/**
 * Where a passkey is used: a key made for one host signs for no other, so a page that only looks like ours gets nothing
 * from it.
 *
 * @param origin scheme, host and port as the browser has them, such as {@code https://ferrule.example}
 * @param host without the port, such as {@code ferrule.example}
 */
public record PasskeyPlace(String origin, String host) {

  /** The place that a browser reaches by this scheme and this host with its port. */
  public static PasskeyPlace of(String scheme, String hostAndPort) {
    return new PasskeyPlace(scheme + "://" + hostAndPort, hostAndPort.replaceFirst(":\\d+$", ""));
  }
}
