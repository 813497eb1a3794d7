package ferrule.web;

/**
 * An account that the sign-in page of a demonstration shows.
 *
 * @param who the person and what they do
 * @param signInName what to type
 * @param password what to type
 * @param pin the PIN to sign with, or an empty text
 */
public record DemoAccount(String who, String signInName, String password, String pin) {}
