package dev
