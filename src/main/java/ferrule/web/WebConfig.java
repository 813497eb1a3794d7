package ferrule.web;

import ferrule.people.SchoolProvider;
import java.util.List;
import java.util.Optional;

/**
 * How the server is set up.
 *
 * @param host the address to listen on
 * @param port the port, 0 for any free one
 * @param behindTls whether browsers reach it by https, so that cookies are sent by https only
 * @param demoAccounts accounts to show on the sign-in page; empty in production
 * @param school where the school's own accounts are, if people may come in by those
 */
public record WebConfig(
    String host, int port, boolean behindTls, List<DemoAccount> demoAccounts, Optional<SchoolProvider> school) {

  /** Without accounts of the school. */
  public WebConfig(String host, int port, boolean behindTls, List<DemoAccount> demoAccounts) {
    this(host, port, behindTls, demoAccounts, Optional.empty());
  }

  /** Copies the list and checks the port. */
  public WebConfig {
    demoAccounts = List.copyOf(demoAccounts);
    if (port < 0 || port > 65_535) {
      throw new IllegalArgumentException("a port is a number from 0 to 65535; given: " + port);
    }
  }

  /** Whether this is a demonstration. */
  public boolean isDemo() {
    return !demoAccounts.isEmpty();
  }
}
