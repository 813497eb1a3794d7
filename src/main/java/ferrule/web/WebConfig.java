package ferrule.web;

import java.util.List;

/**
 * How the server is set up.
 *
 * @param host the address to listen on
 * @param port the port, 0 for any free one
 * @param behindTls whether browsers reach it by https, so that cookies are sent by https only
 * @param demoAccounts accounts to show on the sign-in page; empty in production
 */
public record WebConfig(String host, int port, boolean behindTls, List<DemoAccount> demoAccounts) {

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
