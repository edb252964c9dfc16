/* UNDER_SANITIZER is 1 where the address or the thread sanitizer is built in:
 * their shadow memory and their reports need what a child process is otherwise
 * denied. */
#ifndef BASE_SANITIZER_H
#define BASE_SANITIZER_H

#ifdef __has_feature
#define HAS_FEATURE(name) __has_feature(name)
#else
#define HAS_FEATURE(name) 0
#endif
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) ||           \
    HAS_FEATURE(address_sanitizer) || HAS_FEATURE(thread_sanitizer)
#define UNDER_SANITIZER 1
#else
#define UNDER_SANITIZER 0
#endif

#endif
